#pragma once

#include "desk/OpenBook.h"
#include "desk/TempoText.h"
#include "spotting/Times.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// A composer's file read as a cue's tempo map.
struct ReadTempo
{
    music::TempoMap map;
    std::string barOneBy;                 ///< how bar 1 was found, one sentence
    std::optional<time::Rational> fromIn; ///< seconds of bar 1 from the cue's in, where the file's SMPTE offset says so
    std::vector<std::string> notes;       ///< what was odd
    std::vector<std::string> changes;     ///< against the book, one sentence each; empty: they beat alike
};

/// Reads a MIDI file or a MusicXML score for a cue. `fileBar` is the bar of the file that is bar 1, when neither a marker nor an
/// SMPTE offset tells; bar 1 of a score is its own. Error: unreadable, no such cue, or nothing to tell bar 1 by.
Result<ReadTempo> readTempoFile (const spotting::BookTimes& times, const std::string& cue, const std::string& path,
                                 std::optional<std::int64_t> fileBar);

/// What another speed, rate, fill or edition does to a hit of written music.
struct HitEffect
{
    std::size_t row = 0;      ///< index into the hits of the times after
    music::BarBeat writtenAt; ///< the beat nearest to it before
    time::Rational keptTempo; ///< seconds that beat comes late now when the tempo is kept
    time::Rational keptBars;  ///< and when the bars are kept on the picture
};

/// Both ways to go on with a cue when its picture runs differently, to be looked at before one is chosen.
struct SpeedEffect
{
    time::Rational factor{ 1 }; ///< tempos times this keep the bars on the picture
    time::Rational lengthBefore, lengthAfter;
    music::TempoMap bars; ///< the map with its bars kept on the picture
    std::vector<HitEffect> hits;
};

/// Error: a cue without tempo map, or whose in, out or bar 1 is lost before or after.
Result<SpeedEffect> speedEffect (const spotting::BookTimes& before, const spotting::BookTimes& after, const std::string& cue);
} // namespace shutterbeat::desk
