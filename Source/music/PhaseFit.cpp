#include "music/PhaseFit.h"

#include "music/Circle.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::music
{
namespace
{
constexpr double infinite = std::numeric_limits<double>::infinity();
} // namespace

PhaseFit::PhaseFit (const std::vector<FitTarget>& targets, const FitWish& wish)
    : hits (targets)
    , wanted (wish)
    , sum ({})
{
    const auto [first, last] = std::minmax_element (hits.begin(), hits.end(),
                                                    [] (const FitTarget& a, const FitTarget& b) { return a.seconds < b.seconds; });
    middle = hits.empty() ? 0 : (first->seconds + last->seconds) / 2;
    for (auto& hit : hits)
        hit.seconds -= middle;
    if (wanted.start)
        *wanted.start -= middle;
    for (unsigned i = 0; i < hits.size(); ++i)
    {
        points.push_back ({ 0, i });
        starts.push_back ({ 0, i });
        if (hits[i].must)
        {
            ++musts;
            starts.push_back ({ 0, i + static_cast<unsigned> (hits.size()) });
            mustEvents.push_back ({ 0, 2 * i });
            mustEvents.push_back ({ 0, 2 * i + 1 });
        }
        even = even && hits[i].weight == hits[0].weight;
    }
    sum = BeyondSum (hits);
}

void PhaseFit::sort (std::vector<Sorted>& list)
{
    for (std::size_t i = 1; i < list.size(); ++i)
    {
        const auto moved = list[i];
        std::size_t to = i;
        for (; to > 0 && moved.pos < list[to - 1].pos; --to)
            list[to] = list[to - 1];
        list[to] = moved;
    }
}

double PhaseFit::valueOf (double step, double start) const
{
    return valueAt (step, start - middle);
}

double PhaseFit::valueAt (double step, double start) const
{
    double value = 0;
    const double circle = wanted.dearness.empty() ? step : step * static_cast<double> (wanted.dearness.size());
    for (const auto& hit : hits)
    {
        const double off = circular (start - hit.seconds, step);
        const double over = std::max (0.0, std::abs (circular (start - centre (hit), step)) - halfWidth (hit));
        if (hit.must && over > 1e-9)
            return infinite;
        if (! wanted.dearness.empty())
        {
            double least = infinite;
            for (std::size_t k = 0; k < wanted.dearness.size(); ++k)
            {
                const double away =
                    std::abs (circular (start + static_cast<double> (k) * step - centre (hit), circle)) - halfWidth (hit);
                if (! hit.must || away < 1e-9)
                    least = std::min (least, std::max (0.0, away) + wanted.dearness[k]);
            }
            value += hit.weight * least;
        }
        else if (wanted.measure == FitMeasure::largest)
            value = std::max (value, hit.weight * std::abs (off));
        else if (wanted.measure == FitMeasure::squares)
            value += hit.weight * off * off;
        else if (! hit.must)
            value += hit.weight * over;
    }
    return value;
}

/// Finds where all musts are met. False: nowhere.
bool PhaseFit::allow (double step)
{
    arcs.clear();
    if (musts == 0)
        return true;
    std::size_t inside = 0, needed = 0;
    for (auto& event : mustEvents)
    {
        const auto& hit = hits[event.index / 2];
        const bool end = event.index % 2 == 1;
        if (halfWidth (hit) >= step / 2)
        {
            event.pos = 2 * step; // met everywhere: out of the way
            continue;
        }
        event.pos = wrapped (centre (hit) + (end ? halfWidth (hit) : -halfWidth (hit)), step);
        if (! end)
            ++needed;
    }
    if (needed == 0)
    {
        arcs.push_back ({ 0, step });
        return true;
    }
    sort (mustEvents);
    // An arc whose end is met before its start reaches across 0.
    std::vector<char> open (hits.size(), 0);
    for (const auto& event : mustEvents)
        if (event.pos < step)
        {
            const auto i = event.index / 2;
            if (event.index % 2 == 1 && open[i] == 0)
                ++inside;
            open[i] = 1;
        }
    constexpr double nowhere = -1;
    double from = inside == needed ? 0 : nowhere;
    const double all = static_cast<double> (needed);
    double count = static_cast<double> (inside);
    // Starts before ends at one position: arcs are closed.
    for (std::size_t i = 0; i < mustEvents.size() && mustEvents[i].pos < step;)
    {
        std::size_t j = i;
        double up = 0, down = 0;
        for (; j < mustEvents.size() && mustEvents[j].pos <= mustEvents[i].pos + 1e-13; ++j)
            (mustEvents[j].index % 2 == 1 ? down : up) += 1;
        if (count + up >= all && from == nowhere)
            from = mustEvents[i].pos;
        count += up - down;
        if (count < all && from != nowhere)
        {
            arcs.push_back ({ from, mustEvents[i].pos });
            from = nowhere;
        }
        i = j;
    }
    if (from != nowhere)
        arcs.push_back ({ from, step });
    return ! arcs.empty();
}

void PhaseFit::placePoints (double step)
{
    for (auto& point : points)
        point.pos = wrapped (hits[point.index].seconds, step);
    sort (points);
}

FitPoint PhaseFit::at (double step)
{
    if (wanted.start)
        return { 0, *wanted.start + middle, valueAt (step, *wanted.start) };
    if (! allow (step))
        return {};
    auto best = ! wanted.dearness.empty()               ? strong (step)
                : wanted.measure == FitMeasure::beyond  ? sum.least (step, arcs, musts == 0)
                : wanted.measure == FitMeasure::squares ? squares (step)
                : even && musts == 0                    ? evenGaps (step)
                                                        : level (step);
    best.start = wrapped (best.start + middle, step * static_cast<double> (std::max<std::size_t> (1, wanted.dearness.size())));
    return best;
}

/// Crossing the point opposite to a hit moves the mean by the step: the best start is the mean of one of n unrollings,
/// brought to the nearest allowed place.
FitPoint PhaseFit::squares (double step)
{
    placePoints (step);
    double weight = 0, total = 0, square = 0;
    for (const auto& point : points)
    {
        const double w = hits[point.index].weight;
        weight += w;
        total += w * point.pos;
        square += w * point.pos * point.pos;
    }
    FitPoint best;
    for (const auto& point : points)
    {
        const double mean = total / weight;
        const double cost = square - total * mean;
        if (musts == 0)
        {
            if (cost < best.value)
                best = { 0, mean, cost };
        }
        else if (cost < best.value)
            for (const auto& [from, to] : arcs)
                for (const double turn : { -step, 0.0, step })
                {
                    const double there = std::clamp (mean, from + turn, to + turn);
                    const double worse = cost + weight * (there - mean) * (there - mean);
                    if (worse < best.value)
                        best = { 0, there, worse };
                }
        const double w = hits[point.index].weight;
        total += w * step;
        square += w * step * (2 * point.pos + step);
    }
    best.value = std::max (0.0, best.value);
    best.start = wrapped (best.start, step);
    return best;
}

/// Strong beats: each hit costs the least of what the places of the bar ask. Between the ends of limits that sum is made of
/// straight lines and caps, so its minimum lies at one of those ends, or at the end of an allowed arc. Where a stretch between
/// ends is as good throughout, its middle leaves most room.
FitPoint PhaseFit::strong (double step)
{
    const double circle = step * static_cast<double> (wanted.dearness.size());
    std::vector<FitPoint> ends;
    for (std::size_t k = 0; k < wanted.dearness.size(); ++k)
        for (const auto& hit : hits)
            for (const double half : { -halfWidth (hit), halfWidth (hit) })
            {
                const double start = wrapped (centre (hit) + half - static_cast<double> (k) * step, circle);
                ends.push_back ({ 0, start, valueAt (step, start) });
            }
    std::sort (ends.begin(), ends.end(), [] (const FitPoint& a, const FitPoint& b) { return a.start < b.start; });
    const auto best =
        *std::min_element (ends.begin(), ends.end(), [] (const FitPoint& a, const FitPoint& b) { return a.value < b.value; });
    constexpr double hair = 1e-12;
    if (! best.fits())
        return best;
    FitPoint chosen = best;
    double widest = 0;
    for (std::size_t i = 0; i < ends.size(); ++i)
    {
        if (ends[i].value > best.value + hair)
            continue;
        const double from = ends[i].start;
        double to = from;
        for (std::size_t k = 1; k < ends.size(); ++k)
        {
            const auto& next = ends[(i + k) % ends.size()];
            const double there = next.start + (i + k >= ends.size() ? circle : 0);
            if (next.value > best.value + hair || valueAt (step, (to + there) / 2) > best.value + hair)
                break;
            to = there;
        }
        if (to - from > widest + hair)
        {
            widest = to - from;
            chosen = { 0, wrapped ((from + to) / 2, circle), best.value };
        }
    }
    return chosen;
}
} // namespace shutterbeat::music
