#pragma once

#include "time/Rational.h"

#include <string>

namespace shutterbeat::time
{
/// Seconds with two decimals as times lists carry them: "123.46". Rounded once on the whole amount, ties up (DESIGN 4).
std::string secondsText (const Rational& seconds, int decimals = 2);

/// "2:03.46", or "1:02:03.46" from an hour on, "-0:04.00" below zero. Rounded once before it is split, so never ":60".
std::string clockText (const Rational& seconds, int decimals = 2);

/// "00:01:00.000": hours always shown, two digits each.
std::string longClockText (const Rational& seconds, int decimals = 3);

/// The sample of the grid nearest to `seconds`, ties up (DESIGN 7).
std::int64_t sampleAt (const Rational& seconds, std::int64_t samplesPerSecond);
} // namespace shutterbeat::time
