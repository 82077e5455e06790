#pragma once

#include "spotting/Times.h"

#include <optional>
#include <string>

namespace shutterbeat::sheets
{
/// What is seen where music starts or stops: "At title: Meanwhile …", "At action: Ladder falls", "At the first picture",
/// "At the cut to: shot 12".
struct Signal
{
    std::string how, what;
    bool title = false; ///< `what` is the wording of a card
};
Signal signalAt (const spotting::BookTimes& times, const film::Place& place);

/// Exact seconds of film time between two places of one reel; none when either is lost or they lie in different reels.
std::optional<time::Rational> filmSeconds (const film::Timings& timings, const film::Place& from, const film::Place& to);
} // namespace shutterbeat::sheets
