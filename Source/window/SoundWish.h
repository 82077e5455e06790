#pragma once

#include <string>

namespace shutterbeat::window
{
/// How the film is to be heard here. Belongs to the machine, not to the book.
struct SoundWish
{
    std::string device; ///< its name; empty: the one the system uses
    int gainDb = 0;     ///< -60 to 12
    bool muted = false;
    bool click = false;      ///< the click of every cue that has a tempo map is heard too
    bool midiCode = false;   ///< MIDI time code goes out while the film plays as delivered
    std::string midiOutput;  ///< its name; empty: the first there is
    bool linearCode = false; ///< the right channel is linear timecode, the left all sound
    int codeOffsetMs = 0;    ///< the code is so much later; below zero: earlier. -1000 to 1000
    int offsetMs = 0;        ///< everything is heard so much later; below zero: earlier. -1000 to 1000

    friend bool operator== (const SoundWish&, const SoundWish&) = default;
};
} // namespace shutterbeat::window
