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
    bool click = false; ///< the click of every cue that has a tempo map is heard too
    int offsetMs = 0; ///< everything is heard so much later; below zero: earlier. -1000 to 1000

    friend bool operator== (const SoundWish&, const SoundWish&) = default;
};
} // namespace shutterbeat::window
