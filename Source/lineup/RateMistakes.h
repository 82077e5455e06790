#pragma once

#include "time/Rational.h"

#include <string>
#include <vector>

namespace shutterbeat::lineup
{
/// A way in which music comes to be too long or too short as a whole.
struct RateMistake
{
    time::Rational ratio;    ///< length heard to length written: above one is too slow
    std::string words;       ///< "made for 24 frames a second, heard against 25"
    bool sampleRate = false; ///< its samples are played at another rate, so that the pitch moves with it
};

/// Every such ratio between 0.74 and 1.36 that the final rates, the usual running speeds and the usual sample rates give, by
/// rising ratio; equal ratios are one entry that names each way (common practice, no source).
const std::vector<RateMistake>& rateMistakes();

/// The entries whose ratio lies within `reach` of a measured one, the nearest first.
std::vector<RateMistake> mistakesNear (double ratio, double reach);
} // namespace shutterbeat::lineup
