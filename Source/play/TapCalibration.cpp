#include "play/TapCalibration.h"

#include <algorithm>

namespace shutterbeat::play
{
namespace
{
/// The value at a share of a sorted list, between its neighbours where it falls between two.
std::int64_t quantile (const std::vector<std::int64_t>& sorted, std::size_t quarters)
{
    const std::size_t at = (sorted.size() - 1) * quarters; // in quarters of a place
    const std::size_t whole = at / 4, part = at % 4;
    if (part == 0)
        return sorted[whole];
    return sorted[whole] + (sorted[whole + 1] - sorted[whole]) * static_cast<std::int64_t> (part) / 4;
}
} // namespace

bool TapCalibration::tap (std::int64_t nanoseconds)
{
    const std::int64_t since = nanoseconds - start + interval / 2;
    if (since < 0)
        return false;
    const std::int64_t beat = since / interval;
    if (beat == lastBeat)
        return false;
    lastBeat = beat;
    if (++taps <= finding)
        return false;
    errors.push_back (nanoseconds - start - beat * interval);
    return true;
}

std::optional<std::int64_t> TapCalibration::median() const
{
    if (errors.empty())
        return {};
    auto sorted = errors;
    std::sort (sorted.begin(), sorted.end());
    return quantile (sorted, 2);
}

std::optional<std::int64_t> TapCalibration::spread() const
{
    constexpr std::size_t least = 4;
    if (errors.size() < least)
        return {};
    auto sorted = errors;
    std::sort (sorted.begin(), sorted.end());
    return (quantile (sorted, 3) - quantile (sorted, 1)) / 2;
}
} // namespace shutterbeat::play
