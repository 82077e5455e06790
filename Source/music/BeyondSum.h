#pragma once

#include "music/TempoFit.h"

#include <cstdint>
#include <utility>
#include <vector>

namespace shutterbeat::music
{
/// The sum of what lies beyond the limits of hits, over all starts on a circle of one grid step: straight lines whose slope
/// changes by the weight where a hit's limits end, and back by twice that opposite to it. Its least lies where a limit
/// ends, or at the end of an allowed arc.
class BeyondSum
{
public:
    using Arcs = std::vector<std::pair<double, double>>; ///< closed, in order, 0 to step

    /// Takes the hits that are no musts.
    explicit BeyondSum (const std::vector<FitTarget>& hits);

    /// The best start from 0 up to step, inside one of the arcs; `everywhere`: anywhere. Where a stretch of starts is as good,
    /// its middle leaves most room. Infinite without arcs.
    FitPoint least (double step, const Arcs& arcs, bool everywhere);

private:
    /// A change of slope.
    struct Point
    {
        double pos = 0;  ///< on the circle
        double turn = 0; ///< how the slope changes
    };
    struct Made
    {
        double pos = 0, turn = 0;
        std::uint32_t bucket = 0;
    };
    struct Hit
    {
        double at = 0, half = 0, weight = 1;
    };
    /// What the sum is at 0 and how it goes on from there.
    struct Begin
    {
        double value = 0, slope = 0;
    };

    Begin order (double step);
    [[nodiscard]] FitPoint leastIn (double step, double value, double slope, const Arcs& arcs) const;

    std::vector<Hit> hits;
    std::vector<Made> made;            ///< as the hits have them
    std::vector<Point> points;         ///< in order
    std::vector<std::uint32_t> filled; ///< how far each bucket is, the one before it first
    std::vector<double> sums;
    double widest = 0; ///< half width of the widest limits
    int bucketBits = 0;
};
} // namespace shutterbeat::music
