#include "music/BeyondSum.h"

#include "music/Circle.h"

#include <algorithm>

namespace shutterbeat::music
{
namespace
{
/// Slopes and sums are made of weights; what is left of them by rounding is nothing.
constexpr double nothing = 1e-12;

template <class Points>
void insertionSort (Points& list)
{
    for (std::size_t i = 1; i < list.size(); ++i)
    {
        if (list[i].pos >= list[i - 1].pos)
            continue;
        const auto moved = list[i];
        std::size_t to = i;
        for (; to > 0 && moved.pos < list[to - 1].pos; --to)
            list[to] = list[to - 1];
        list[to] = moved;
    }
}
} // namespace

BeyondSum::BeyondSum (const std::vector<FitTarget>& targets)
{
    for (const auto& target : targets)
    {
        if (target.must)
            continue;
        const double at = centre (target), half = halfWidth (target), weight = target.weight;
        hits.push_back ({ at, half, weight });
        all.push_back ({ 0, at - half, 0, weight });
        all.push_back ({ 0, at + half, 0, weight });
        all.push_back ({ 0, at, -.5, -2 * weight });
        widest = std::max (widest, half);
    }
    sums.resize (all.size() + 2);
}

/// Puts every point on the circle from nothing known.
void BeyondSum::reset (double step)
{
    points = all;
    for (auto& point : points)
        point.turns += std::floor (point.at / step - point.turns);
    ready = true;
}

/// Hits whose limits reach all around cost nothing anywhere.
void BeyondSum::leaveOutWide (double step)
{
    std::vector<Point> kept;
    for (std::size_t i = 0; i < hits.size(); ++i)
        if (hits[i].half < step / 2)
            kept.insert (kept.end(), all.begin() + static_cast<std::ptrdiff_t> (3 * i),
                         all.begin() + static_cast<std::ptrdiff_t> (3 * i + 3));
    std::swap (all, kept);
    reset (step);
    std::swap (all, kept);
    ready = false;
}

/// Brings all points in order on the circle. From tempo to tempo they move a little: first in order as they lie, some of
/// them past an end; those are then carried to the other end together.
void BeyondSum::order (double step)
{
    const bool wide = widest >= step / 2;
    if (wide)
        leaveOutWide (step);
    else if (! ready)
        reset (step);
    const auto place = [&]
    {
        bool far = false;
        for (auto& point : points)
        {
            point.pos = point.at - step * point.turns;
            far = far || point.pos < -step || point.pos >= 2 * step;
        }
        return ! far;
    };
    if (! place())
    {
        reset (step);
        place();
    }
    insertionSort (points);
    const auto below = std::find_if (points.begin(), points.end(), [] (const Point& p) { return p.pos >= 0; });
    for (auto point = points.begin(); point != below; ++point)
    {
        point->pos += step;
        point->turns -= 1;
    }
    auto above = points.end();
    for (; above != below && std::prev (above)->pos >= step; --above)
    {
        std::prev (above)->pos -= step;
        std::prev (above)->turns += 1;
    }
    // Past the upper end, then the middle, then past the lower end.
    std::rotate (points.begin(), below, points.end());
    std::rotate (points.begin(), points.begin() + (above - below), points.end() - (below - points.begin()));
    insertionSort (points);
}

FitPoint BeyondSum::least (double step, const Arcs& arcs, bool everywhere)
{
    order (step);
    double value = 0, slope = 0;
    for (const auto& hit : hits)
    {
        const double away = std::abs (circular (hit.at, step));
        value += hit.weight * std::max (0.0, away - hit.half);
    }
    // Once round the circle the sum comes back to itself: that tells the slope it begins with.
    for (const auto& point : points)
        slope += point.turn * point.pos;
    slope /= step;
    if (! everywhere)
        return leastIn (step, value, slope, arcs);
    // First the sums at all points, then the least of them: no guess of the processor's goes wrong.
    const std::size_t count = points.size() + 1;
    double at = 0, least = value;
    sums[0] = value;
    for (std::size_t i = 1; i < count; ++i)
    {
        const auto& point = points[i - 1];
        value += slope * (point.pos - at);
        at = point.pos;
        slope += point.turn;
        sums[i] = value;
        least = std::min (least, value);
    }
    sums[count] = value + slope * (step - at);
    const auto where = [&] (std::size_t i) { return i == 0 ? 0 : i == count ? step : points[i - 1].pos; };
    FitPoint best;
    double room = -1;
    for (std::size_t i = 0; i <= count; ++i)
        if (sums[i] <= least + nothing)
        {
            const double to = i < count && sums[i + 1] <= least + nothing ? where (i + 1) : where (i);
            if (to - where (i) > room)
            {
                best = { 0, (where (i) + to) / 2, std::max (0.0, sums[i]) };
                room = to - where (i);
            }
        }
    return best;
}

FitPoint BeyondSum::leastIn (double step, double value, double slope, const Arcs& arcs) const
{
    FitPoint best;
    double room = -1, at = 0;
    auto arc = arcs.begin();
    for (std::size_t i = 0; i <= points.size(); ++i)
    {
        const double to = i < points.size() ? points[i].pos : step;
        while (arc != arcs.end() && arc->second < at)
            ++arc;
        for (auto here = arc; here != arcs.end() && here->first <= to; ++here)
        {
            const double a = std::max (at, here->first), b = std::min (to, here->second);
            const double va = value + slope * (a - at), vb = value + slope * (b - at);
            const bool level = std::abs (va - vb) < nothing;
            const double lower = std::min (va, vb);
            if (lower < best.value - nothing || (level && lower <= best.value + nothing && b - a > room))
            {
                best = { 0, level ? (a + b) / 2 : va < vb ? a : b, lower };
                room = level ? b - a : 0;
            }
        }
        value += slope * (to - at);
        at = to;
        if (i < points.size())
            slope += points[i].turn;
    }
    best.value = std::max (0.0, best.value);
    return best;
}
} // namespace shutterbeat::music
