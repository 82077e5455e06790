#include "time/Clock.h"

#include "time/Text.h"

#include <algorithm>
#include <limits>

namespace shutterbeat::time
{
namespace
{
struct Split
{
    bool negative = false;
    std::int64_t hours = 0, minutes = 0, seconds = 0;
    std::string fraction;
};

Split split (const Rational& seconds, int decimals)
{
    std::int64_t scale = 1;
    for (int i = 0; i < decimals; ++i)
        scale *= 10;
    const std::int64_t units = roundOf (seconds * Rational (scale));
    Split s;
    s.negative = units < 0;
    // What is out of range is rounded to the lowest number, which has no positive one.
    const std::int64_t count = units < 0 ? -std::max (units, -std::numeric_limits<std::int64_t>::max()) : units;
    const std::int64_t whole = count / scale;
    s.hours = whole / 3600;
    s.minutes = whole / 60 % 60;
    s.seconds = whole % 60;
    if (decimals > 0)
        s.fraction = "." + padded (count % scale, decimals);
    return s;
}
} // namespace

std::string secondsText (const Rational& seconds, int decimals)
{
    return decimalText (seconds, decimals);
}

std::string clockText (const Rational& seconds, int decimals)
{
    const Split s = split (seconds, decimals);
    std::string text = s.negative ? "-" : "";
    if (s.hours > 0)
        text += std::to_string (s.hours) + ":" + padded (s.minutes, 2);
    else
        text += std::to_string (s.minutes);
    return text + ":" + padded (s.seconds, 2) + s.fraction;
}

std::string longClockText (const Rational& seconds, int decimals)
{
    const Split s = split (seconds, decimals);
    return (s.negative ? "-" : "") + padded (s.hours, 2) + ":" + padded (s.minutes, 2) + ":" + padded (s.seconds, 2) + s.fraction;
}

std::int64_t sampleAt (const Rational& seconds, std::int64_t samplesPerSecond)
{
    return roundOf (seconds * Rational (samplesPerSecond));
}
} // namespace shutterbeat::time
