#pragma once

#include "music/TempoPlan.h"

namespace shutterbeat::music
{
/// A ramp from one tempo to another over some quarter notes (handbook 4.5 laws a and b).
struct RampLaw
{
    long double first = 120, last = 120; ///< quarter notes a minute, above zero
    long double quarters = 1;            ///< above zero
    Course course = Course::rampInTime;

    /// Seconds from the ramp's start to `b` quarter notes into it, 0 to `quarters`.
    [[nodiscard]] long double secondsAt (long double b) const;
    /// Quarter notes into the ramp after `t` seconds; the inverse of secondsAt.
    [[nodiscard]] long double quartersAt (long double t) const;
    /// Quarter notes a minute at `b`.
    [[nodiscard]] long double tempoAt (long double b) const;
};

long double toLongDouble (const time::Rational& x);
/// The nearest multiple of 1/`parts`, ties up.
time::Rational nearestPart (long double x, std::int64_t parts);
} // namespace shutterbeat::music
