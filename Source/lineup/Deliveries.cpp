#include "lineup/Deliveries.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::lineup
{
std::optional<Mending> mendingOf (const std::vector<Stroke>& strokes)
{
    const auto worst = [&] (double factor)
    {
        double most = 0;
        for (const auto& stroke : strokes)
            most = std::max (most, std::abs (factor * stroke.heard - stroke.wanted));
        return most;
    };
    double low = 1e9, high = 0;
    for (const auto& stroke : strokes)
        if (stroke.heard > 0.001 && stroke.wanted > 0)
        {
            low = std::min (low, stroke.wanted / stroke.heard);
            high = std::max (high, stroke.wanted / stroke.heard);
        }
    if (high <= 0)
        return std::nullopt;
    // The worst error is a convex function of the factor, and its least lies between the factors that suit single places.
    for (int turn = 0; turn < 200 && high - low > 1e-12; ++turn)
    {
        const double third = (high - low) / 3, a = low + third, b = high - third;
        if (worst (a) <= worst (b))
            high = b;
        else
            low = a;
    }
    const double factor = 0.5 * (low + high);
    return Mending{ factor, worst (factor), worst (1) };
}
} // namespace shutterbeat::lineup
