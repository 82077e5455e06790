#pragma once

#include "film/Delivery.h"
#include "film/Unknown.h"
#include "time/Result.h"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace shutterbeat::spotting
{
using film::Unknown;

/// What a sound is to the work. The names are the fixed English words of files and lists.
enum class SoundKind
{
    mockUp, ///< "mock-up"
    take,
    mix,
    stem ///< one of several that share a place
};

/// How it became known where a sound belongs.
enum class PlacedBy
{
    wavTimeStamp, ///< "WAV time stamp": the time reference of its bext chunk
    ltc,          ///< "LTC": linear timecode recorded on one of its channels
    pop,
    name, ///< its file name says the cue
    hand  ///< "by hand"
};

std::string_view soundKindName (SoundKind kind);
Result<SoundKind> parseSoundKind (std::string_view text);
std::string_view placedByName (PlacedBy placed);
Result<PlacedBy> parsePlacedBy (std::string_view text);

/// Where sample 0 of a sound lies, in delivered time.
struct SoundPlace
{
    std::string cue;        ///< id of the cue from whose in it is counted; empty: from picture start of `reel`
    std::size_t reel = 0;   ///< of the edition, from 0; counts only without a cue
    time::Rational seconds; ///< exact; below zero is earlier

    friend bool operator== (const SoundPlace&, const SoundPlace&) = default;
};

/// The cut and delivery that whoever made the sound had before them.
struct MadeFor
{
    std::string edition; ///< letter
    film::Delivery delivery;

    friend bool operator== (const MadeFor&, const MadeFor&) = default;
};

/// A file the composer sent.
struct Sound
{
    std::string id;
    std::string name; ///< for people; usually the file's name
    std::string path; ///< as the book keeps it; relative to the book where it can be
    std::string identity;
    int rate = 48000;                          ///< samples a second
    int channels = 2;                          ///< of the file
    std::int64_t samples = 0;                  ///< per channel
    std::optional<std::int64_t> timeReference; ///< of its bext chunk: samples after midnight
    SoundKind kind = SoundKind::mix;
    PlacedBy placed = PlacedBy::hand;
    SoundPlace place;
    time::Rational gain; ///< decibels
    bool muted = false;
    std::string cue; ///< id of the cue it is music for, or empty; its place never decides
    std::optional<MadeFor> madeFor;
    std::string note;
    Unknown unknown;

    friend bool operator== (const Sound&, const Sound&) = default;
};

/// Exact seconds from sample 0 to the end of the sound.
time::Rational lengthOf (const Sound& sound);

/// Reads where a sound starts as a signed time: "-4.5s", "1001/24000s", or whole samples at a rate, "-192000@48000".
/// Error: neither.
Result<time::Rational> parseSoundOffset (std::string_view text);
/// The time as parseSoundOffset reads it back exactly: samples where it is whole samples of `rate`, else seconds.
std::string soundOffsetText (const time::Rational& seconds, int rate);
} // namespace shutterbeat::spotting
