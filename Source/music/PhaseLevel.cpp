#include "music/Circle.h"
#include "music/PhaseFit.h"

#include <algorithm>

namespace shutterbeat::music
{
/// Equal weights: the best start lies opposite to the middle of the largest gap between hits.
FitPoint PhaseFit::evenGaps (double step)
{
    placePoints (step);
    double gap = points.front().pos + step - points.back().pos, after = points.back().pos;
    for (std::size_t i = 1; i < points.size(); ++i)
        if (points[i].pos - points[i - 1].pos > gap)
        {
            gap = points[i].pos - points[i - 1].pos;
            after = points[i - 1].pos;
        }
    return { 0, wrapped (after + gap / 2 + step / 2, step), hits[0].weight * std::max (0.0, (step - gap) / 2) };
}

/// A gap between the arcs that the hits forbid at a level: every start in it has a weighted error of at most `height` and
/// meets every must.
std::optional<PhaseFit::Gap> PhaseFit::gapAt (double step, double height)
{
    const auto n = hits.size();
    const auto arcOf = [&] (unsigned index, double& from, double& length)
    {
        const auto& hit = hits[index % n];
        const bool error = index < n;
        const double reach = height / hit.weight;
        from = hit.seconds + (error ? reach : hit.late);
        length = step - (error ? 2 * reach : hit.late + hit.early);
        return error ? 1 / hit.weight : 0.0;
    };
    double reach = 0, rate = 0;
    bool covered = false, any = false; // 0 itself is covered by an arc that reaches across it
    for (auto& start : starts)
    {
        double from = 0, length = 0;
        const double own = arcOf (start.index, from, length);
        start.pos = length <= 0 ? 2 * step : wrapped (from, step);
        any = any || length > 0;
        if (length > 0 && start.pos + length > step + reach)
        {
            reach = start.pos + length - step;
            rate = own;
            covered = true;
        }
    }
    if (! any)
        return Gap{ 0, step, 0, 0 };
    sort (starts);
    std::optional<Gap> across;
    for (const auto& start : starts)
    {
        if (start.pos >= step)
            break;
        double from = 0, length = 0;
        const double own = arcOf (start.index, from, length);
        if (start.pos >= reach)
        {
            if (covered)
                return Gap{ reach, start.pos, rate, own };
            across = Gap{ 0, start.pos, 0, own };
            covered = true;
        }
        if (start.pos + length > reach)
        {
            reach = start.pos + length;
            rate = own;
        }
    }
    if (! across || reach > step)
        return {};
    across->from = reach - step;
    across->fromRate = rate;
    return across;
}

/// The lowest level at which the arcs around the hits still leave a gap: from a level that has one straight to the level where
/// it closes, unless other arcs grow into it before that; then by halves.
FitPoint PhaseFit::level (double step)
{
    double low = 0, height = 0;
    for (const auto& hit : hits)
        height = std::max (height, hit.weight * step / 2);
    auto gap = before > 0 ? gapAt (step, before * 1.01) : std::nullopt;
    if (gap)
        height = before * 1.01;
    else
        gap = gapAt (step, height);
    FitPoint best;
    if (! gap)
    {
        // The musts meet in single points, which rounding closed.
        for (const auto& [from, to] : arcs)
            for (const double start : { from, (from + to) / 2, to })
                if (const double value = valueAt (step, start); value < best.value)
                    best = { 0, start, value };
        return best;
    }
    while (height - low > 1e-12 * (1 + height))
    {
        const auto tryAt = [&] (double probe)
        {
            const auto found = gapAt (step, probe);
            if (found)
            {
                height = probe;
                gap = found;
            }
            else
                low = probe;
            return found.has_value();
        };
        if (const double rates = gap->fromRate + gap->toRate; rates > 0)
        {
            const double closes = std::max (low, height - (gap->to - gap->from) / rates);
            const double hair = 1e-13 * (1 + closes);
            if (closes - hair > low && tryAt (closes - hair))
                continue;
            if (closes + hair >= height || tryAt (closes + hair))
                continue;
        }
        tryAt ((low + height) / 2);
    }
    before = height;
    best.start = (gap->from + gap->to) / 2;
    best.value = valueAt (step, best.start);
    return best;
}
} // namespace shutterbeat::music
