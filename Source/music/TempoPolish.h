#pragma once

#include "music/TempoFit.h"

namespace shutterbeat::music
{
/// A point of the curve brought to the exact optimum over tempo and start near it: with every target's beat number kept,
/// the best value is convex in tempo, so it is closed in on; then beat numbers are taken anew until nothing gets better.
FitPoint polished (const std::vector<FitTarget>& targets, const FitWish& wish, FitPoint point);
} // namespace shutterbeat::music
