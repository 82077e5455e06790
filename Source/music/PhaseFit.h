#pragma once

#include "music/BeyondSum.h"
#include "music/TempoFit.h"

#include <utility>
#include <vector>

namespace shutterbeat::music
{
/// The best start for one grid step after another. Each hit is a point on a circle as long as the step; the order of the
/// points changes little from tempo to tempo, so they are kept sorted by insertion, which makes a sweep nearly linear.
class PhaseFit
{
public:
    PhaseFit (const std::vector<FitTarget>& targets, const FitWish& wish);

    /// The best start and its value for this many seconds between grid places; beatsPerMinute is left 0.
    FitPoint at (double step);
    /// The value of one start, infinite where a must is not met.
    [[nodiscard]] double valueOf (double step, double start) const;

private:
    struct Sorted
    {
        double pos;
        unsigned index;
    };
    using Arcs = BeyondSum::Arcs;

    static void sort (std::vector<Sorted>& list);
    bool allow (double step);
    void placePoints (double step);
    FitPoint squares (double step);
    FitPoint evenGaps (double step);
    FitPoint level (double step);
    FitPoint strong (double step);
    [[nodiscard]] double valueAt (double step, double start) const;

    /// Room between two of the arcs that hits forbid, and how fast its ends close in when the level sinks.
    struct Gap
    {
        double from = 0, to = 0, fromRate = 0, toRate = 0;
    };
    std::optional<Gap> gapAt (double step, double height);

    std::vector<FitTarget> hits; ///< their seconds counted from the middle of all, where the least moves from tempo to tempo
    FitWish wanted;
    double middle = 0;
    BeyondSum sum;
    std::size_t musts = 0;
    bool even = true;  ///< all weights equal
    double before = 0; ///< level of the tempo before, a first guess
    std::vector<Sorted> points, mustEvents, starts;
    Arcs arcs; ///< where every must is met; empty with no musts means everywhere
};
} // namespace shutterbeat::music
