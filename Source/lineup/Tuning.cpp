#include "lineup/Tuning.h"

#include "lineup/Fourier.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numbers>

namespace shutterbeat::lineup
{
namespace
{
/// Into -50 (excluded) to 50.
double onCircle (double cents)
{
    const double turned = std::fmod (cents, 100.0);
    return turned > 50 ? turned - 100 : turned <= -50 ? turned + 100 : turned;
}
} // namespace

Tuning tuningOf (const Signal& signal, const std::function<bool (double)>& goOn)
{
    const std::size_t size = std::bit_ceil (static_cast<std::size_t> (std::max (16.0, 0.26 * signal.rate)));
    Spectrum spectrum (size);
    const double bin = signal.rate / static_cast<double> (size);
    const auto low = static_cast<std::size_t> (110 / bin);
    const auto high = std::min (size / 2 - 2, static_cast<std::size_t> (1800 / bin));
    const std::size_t hop = size / 2, end = std::min (signal.samples.size(), static_cast<std::size_t> (120 * signal.rate));
    double along = 0, across = 0, weights = 0;
    for (std::size_t from = 0; from + size <= end; from += hop)
    {
        if (goOn && ! goOn (static_cast<double> (from) / static_cast<double> (end)))
            return {};
        const auto heights = spectrum.of (signal.samples.subspan (from, size));
        float loudest = 0;
        for (auto k = low; k <= high; ++k)
            loudest = std::max (loudest, heights[k]);
        if (loudest < 1e-4f * static_cast<float> (size))
            continue;
        for (auto k = std::max<std::size_t> (2, low); k <= high; ++k)
        {
            const bool top = heights[k] > heights[k - 1] && heights[k] >= heights[k + 1] && heights[k] > heights[k - 2]
                             && heights[k] > heights[k + 2] && heights[k] > 0.05f * loudest;
            if (! top)
                continue;
            // A parabola through the logarithms: of a Hann window's main lobe it is right to a few hundredths of a bin.
            const double before = std::log (heights[k - 1] + 1e-12), middle = std::log (heights[k] + 1e-12),
                         after = std::log (heights[k + 1] + 1e-12), bend = before - 2 * middle + after;
            const double place = static_cast<double> (k) + (bend < 0 ? std::clamp (0.5 * (before - after) / bend, -0.5, 0.5) : 0);
            const double angle = 2 * std::numbers::pi * 12 * std::log2 (place * bin / 440);
            const double weight = std::sqrt (heights[k] / loudest);
            along += weight * std::cos (angle);
            across += weight * std::sin (angle);
            weights += weight;
        }
    }
    if (weights <= 0)
        return {};
    return { onCircle (std::atan2 (across, along) / (2 * std::numbers::pi) * 100), std::hypot (along, across) / weights };
}

double movedCents (double cents, double ratio)
{
    return onCircle (cents - 1200 * std::log2 (ratio));
}

double centsApart (double a, double b)
{
    return std::abs (onCircle (a - b));
}
} // namespace shutterbeat::lineup
