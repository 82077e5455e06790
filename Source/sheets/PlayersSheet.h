#pragma once

#include "sheets/Sheet.h"
#include "spotting/Book.h"

namespace shutterbeat::sheets
{
/// The sheet a pianist or band plays a showing from, in the manner of the 1920s: number, "At title" or "At action" with what is
/// seen there, piece, tempo and mood, minutes and seconds as the house projects it, segue, tacet, effects. `times` are at the
/// house's speed; durations are film time itself, rounded once to whole seconds. Error: Cairo could not write.
Result<Sheet> playersSheet (const spotting::Book& book, const spotting::BookTimes& times, const SheetHead& head);

/// What tells the players that a cue begins: "At title: Meanwhile …", "At action: Ladder falls", "At the first picture".
struct Signal
{
    std::string how, what;
    bool title = false;
};
Signal signalOf (const spotting::BookTimes& times, const spotting::CueTimes& cue);

/// Exact seconds of film time between two places of one reel; none when either is lost or they lie in different reels.
std::optional<time::Rational> filmSeconds (const film::Timings& timings, const film::Place& from, const film::Place& to);
} // namespace shutterbeat::sheets
