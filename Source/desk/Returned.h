#pragma once

#include "desk/OpenBook.h"
#include "spotting/Times.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// One thing that says where a returned file belongs.
struct ReturnedSign
{
    std::string by; ///< "LTC", "WAV time stamp", "pop", "name"; of MIDI files "marker", "SMPTE offset", "name"
    std::optional<time::Rational> seconds; ///< of its first sample or tick from picture start of the reel; none: names a cue only
    std::string cue;                       ///< id of the cue it speaks of, or empty
    std::string said;                      ///< a sentence
};

/// A sound or MIDI file that somebody sent back, matched to its cue.
struct ReturnedFile
{
    std::string path;
    bool midi = false;
    std::vector<ReturnedSign> signs;      ///< the one that was used first
    std::string cue;                      ///< id; empty: no cue is known
    bool disagree = false;                ///< two signs lie more than half a delivered frame apart, or name different cues
    std::vector<std::string> notes;       ///< how far apart they lie among them
    std::optional<spotting::Sound> sound; ///< ready to be added; none for MIDI, or when nothing says where it belongs
};

/// Looks for every sign a file carries and compares them. Of a sound the first of linear timecode, time stamp, pop and name is
/// used; the cue is the one its name says, else the one its place lies in or nearest before. Nothing is guessed: without a sign the
/// file is told as such. Error: neither a sound nor a MIDI file; unreadable; cancelled.
Result<ReturnedFile> matchReturned (const OpenBook& open, const spotting::BookTimes& times, const std::string& path,
                                    std::size_t reel, const Progress& progress = {});
} // namespace shutterbeat::desk
