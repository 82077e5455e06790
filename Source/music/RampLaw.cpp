#include "music/RampLaw.h"

#include <cmath>

namespace shutterbeat::music
{
// The textbook forms lose all digits where both tempos are nearly equal; these do not, and only an exact zero is special.
long double RampLaw::secondsAt (long double b) const
{
    if (course == Course::rampInBeat)
    {
        const long double z = (last - first) * b / (quarters * first);
        return 60 * b / first * (z == 0 ? 1 : std::log1p (z) / z);
    }
    return 120 * b / (first + std::sqrt (first * first + (last - first) * (last + first) * b / quarters));
}

long double RampLaw::quartersAt (long double t) const
{
    if (course == Course::rampInBeat)
    {
        const long double kt = (last - first) / (60 * quarters) * t;
        return first * t / 60 * (kt == 0 ? 1 : std::expm1 (kt) / kt);
    }
    const long double duration = 120 * quarters / (first + last);
    return t * (first + (last - first) * t / (2 * duration)) / 60;
}

long double RampLaw::tempoAt (long double b) const
{
    if (course == Course::rampInBeat)
        return first + (last - first) * b / quarters;
    return std::sqrt (first * first + (last - first) * (last + first) * b / quarters);
}

long double toLongDouble (const time::Rational& x)
{
    return static_cast<long double> (x.numerator()) / static_cast<long double> (x.denominator());
}

time::Rational nearestPart (long double x, std::int64_t parts)
{
    return { static_cast<time::Int128> (std::floor (x * static_cast<long double> (parts) + 0.5L)), parts };
}
} // namespace shutterbeat::music
