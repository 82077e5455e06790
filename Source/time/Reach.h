#pragma once

#include "time/Rational.h"

namespace shutterbeat::time
{
/// Whether a number of seconds that somebody gave can be reckoned with: at most a hundred million (three years) either way, in
/// parts of 10^-12 at the finest, so that rates, speeds and other such numbers still fit beside it in 128 bits. Common sense, no
/// source.
inline bool withinReach (const Rational& seconds)
{
    return seconds.valid() && seconds.denominator() <= 1'000'000'000'000 && seconds <= Rational (100'000'000)
           && seconds >= Rational (-100'000'000);
}
} // namespace shutterbeat::time
