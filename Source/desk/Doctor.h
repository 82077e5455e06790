#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// One thing that was looked at on this machine.
struct Finding
{
    enum class State
    {
        well,   ///< there
        could,  ///< not there, and only needed for something particular
        lacking ///< not there, and missed
    };
    State state = State::well;
    std::string area;    ///< "sound", "codecs", "fonts", "reading", "cache", "disk", "state"
    std::string what;    ///< one sentence
    std::string package; ///< of Debian, that cures it; empty when none does, or nothing is lacking
};

/// "well", "could", "lacking": the fixed English words.
std::string findingStateName (Finding::State state);

/// A folder and the room it has.
struct Room
{
    std::string path;            ///< empty: there is no such folder to be had
    bool writable = false;       ///< it, or the nearest folder above it that is there
    std::uint64_t used = 0;      ///< bytes of the files in it
    std::uint64_t freeBytes = 0; ///< of the disk, for this user
};

/// What this machine offers the program and lacks.
struct Examination
{
    std::vector<Finding> findings; ///< by area, in the order above
    Room cache, state, temporary;
    std::vector<std::string> languages; ///< that Tesseract can read here
    std::string libav;                  ///< version of FFmpeg's libraries

    [[nodiscard]] bool lacking() const;
};

/// Looks at sound, codecs, fonts, reading, folders and disks. Changes nothing, asks no network; takes a second at most.
Examination examineMachine();
} // namespace shutterbeat::desk
