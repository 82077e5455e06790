#pragma once

#include "music/TempoFit.h"

#include <cmath>

namespace shutterbeat::music
{
/// x on a circle of that length, 0 up to below it.
inline double wrapped (double x, double length)
{
    const double on = x - length * std::floor (x / length);
    return on >= length || on < 0 ? 0 : on;
}

/// The distance from 0 on the circle, in (-length/2, length/2].
inline double circular (double x, double length)
{
    const double on = wrapped (x, length);
    return on > length / 2 ? on - length : on;
}

/// Early and late limits need not be equal: half their sum around a centre half their difference later is the same.
inline double centre (const FitTarget& hit)
{
    return hit.seconds + (hit.late - hit.early) / 2;
}

inline double halfWidth (const FitTarget& hit)
{
    return (hit.late + hit.early) / 2;
}
} // namespace shutterbeat::music
