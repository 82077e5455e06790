#pragma once

#include "time/Rational.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::scan
{
/// A regular cadence of repeats, as files are padded with it.
struct CadencePattern
{
    time::Rational share;    ///< film frames per file frame, below 1
    std::vector<int> cycle;  ///< file frames per film frame (handbook 3.2, rule A)
    std::vector<bool> isNew; ///< the same per file frame: true where a film frame begins
    double handicap = 0;     ///< evidence an unusual speed must bring beyond that of a usual one
};

/// The cadences that pad film frames to `fileRate`: the usual speeds and archive rates below it, whole numbers between, and
/// every picture twice. Without a rate: those of 24, 25, 30, 50 and 60.
std::vector<CadencePattern> cadencePatterns (const std::optional<time::Rational>& fileRate);

/// "2:1:1:1", runs shortened: "2:1x23".
std::string cycleText (const std::vector<int>& cycle);
} // namespace shutterbeat::scan
