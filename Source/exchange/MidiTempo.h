#pragma once

#include "exchange/MidiRead.h"
#include "music/TempoMap.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::exchange
{
/// How bar 1 was found in a composer's file.
enum class BarOneFrom
{
    marker, ///< a marker named as the cue
    given,  ///< the bar the user named
    start   ///< tick 0, placed by the SMPTE offset
};

/// A tempo map out of a MIDI file.
struct MidiMap
{
    music::TempoMap map;
    std::int64_t barOneTick = 0;
    BarOneFrom from = BarOneFrom::start;
    std::vector<std::string> notes; ///< what was odd, and how it was taken
};

/// Whether a marker names a cue: its number, its title, or "number title", whatever the case.
bool namesCue (const std::string& marker, const std::string& number, const std::string& title);

/// Tempos, meters and keys of a file as a tempo map. Bar 1 beat 1 is the marker named as the cue (`number`, `title`); else
/// the bar of the file that the user names (`fileBar`, from 1); else tick 0, if the file has an SMPTE offset to place it.
/// A tempo keeps the two decimals that write the very same microseconds, else the exact fraction. A meter that comes inside
/// a bar makes that bar short, and is said; a short first bar right before bar 1 is the pickup.
/// Error: nothing to tell bar 1 by (asks for the bar), ticks of timecode instead of beats, or more tempos than a map holds.
Result<MidiMap> tempoMapOf (const MidiReading& reading, const std::string& number, const std::string& title,
                            std::optional<std::int64_t> fileBar = {});

/// Seconds after 00:00:00:00 that an SMPTE offset says, by the rate in its own bits (29.97 drop-frame for 2).
time::Rational offsetSeconds (const std::array<unsigned char, 5>& offset);

/// What is different between two maps of one cue, one sentence each: tempos, meters, pickup; none when they beat alike
/// within `apart` seconds at every bar up to `bars`.
std::vector<std::string> changesBetween (const music::TempoMap& book, const music::TempoMap& file, std::int64_t bars,
                                         const time::Rational& apart = { 1, 1000 });
} // namespace shutterbeat::exchange
