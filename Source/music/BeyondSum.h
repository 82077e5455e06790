#pragma once

#include "music/TempoFit.h"

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
        double pos = 0;   ///< on the circle
        double at = 0;    ///< seconds
        double turns = 0; ///< of the circle to take from it, or half of one more for an opposite point
        double turn = 0;  ///< how the slope changes
    };
    struct Hit
    {
        double at = 0, half = 0, weight = 1;
    };

    void order (double step);
    void reset (double step);
    void leaveOutWide (double step);
    [[nodiscard]] FitPoint leastIn (double step, double value, double slope, const Arcs& arcs) const;

    std::vector<Hit> hits;
    std::vector<Point> points; ///< kept in order from one step to the next
    std::vector<Point> all;    ///< as they are made
    std::vector<double> sums;
    double widest = 0; ///< half width of the widest limits
    bool ready = false, someLeftOut = false;
};
} // namespace shutterbeat::music
