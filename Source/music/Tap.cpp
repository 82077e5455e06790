#include "music/Tap.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::music
{
namespace
{
double median (std::vector<double> list)
{
    const auto middle = list.begin() + static_cast<std::ptrdiff_t> (list.size() / 2);
    std::nth_element (list.begin(), middle, list.end());
    return *middle;
}

/// Index of the first tap of the last run.
std::size_t runStart (const std::vector<double>& taps)
{
    std::vector<double> gaps;
    std::size_t start = taps.size() - 1;
    while (start > 0)
    {
        const double gap = taps[start] - taps[start - 1];
        if (gap <= 0 || gap > 3 || (! gaps.empty() && gap > 2.5 * median (gaps)))
            break;
        gaps.push_back (gap);
        --start;
    }
    return start;
}
} // namespace

std::optional<Tapped> tappedTempo (const std::vector<double>& seconds)
{
    if (seconds.size() < 2)
        return {};
    const std::vector<double> taps (seconds.begin() + static_cast<std::ptrdiff_t> (runStart (seconds)), seconds.end());
    if (taps.size() < 2)
        return {};
    std::vector<double> gaps;
    for (std::size_t i = 1; i < taps.size(); ++i)
        gaps.push_back (taps[i] - taps[i - 1]);
    const double usual = median (gaps);
    std::vector<double> beats{ 0 };
    for (const double gap : gaps)
        beats.push_back (beats.back() + std::max (1.0, std::round (gap / usual)));
    const auto n = static_cast<double> (taps.size());
    double meanBeat = 0, meanTime = 0;
    for (std::size_t i = 0; i < taps.size(); ++i)
    {
        meanBeat += beats[i] / n;
        meanTime += taps[i] / n;
    }
    double together = 0, square = 0;
    for (std::size_t i = 0; i < taps.size(); ++i)
    {
        together += (beats[i] - meanBeat) * (taps[i] - meanTime);
        square += (beats[i] - meanBeat) * (beats[i] - meanBeat);
    }
    Tapped tapped;
    tapped.taps = taps.size();
    tapped.secondsPerBeat = together / square;
    tapped.firstBeat = meanTime - meanBeat * tapped.secondsPerBeat;
    double off = 0;
    for (std::size_t i = 0; i < taps.size(); ++i)
        off += std::pow (taps[i] - tapped.firstBeat - beats[i] * tapped.secondsPerBeat, 2);
    tapped.spread = taps.size() > 2 ? std::sqrt (off / (n - 2)) : 0;
    return tapped;
}
} // namespace shutterbeat::music
