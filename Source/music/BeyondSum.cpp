#include "music/BeyondSum.h"

#include "music/Circle.h"

#include <algorithm>

namespace shutterbeat::music
{
namespace
{
/// Slopes and sums are made of weights; what is left of them by rounding is nothing.
constexpr double nothing = 1e-12;

/// Fractions of a turn are looked at in this many bits, which leaves room for 2^29 whole turns.
constexpr int fractionBits = 32;
constexpr double fractions = 4294967296.0;
} // namespace

BeyondSum::BeyondSum (const std::vector<FitTarget>& targets)
{
    for (const auto& target : targets)
        if (! target.must)
        {
            hits.push_back ({ centre (target), halfWidth (target), target.weight });
            widest = std::max (widest, halfWidth (target));
        }
    made.resize (3 * hits.size());
    points.resize (made.size());
    sums.resize (made.size() + 2);
    // About one point a bucket.
    while (bucketBits < 20 && (std::size_t{ 1 } << bucketBits) < made.size())
        ++bucketBits;
    filled.resize ((std::size_t{ 1 } << bucketBits) + 1);
}

/// Puts every point on the circle and all of them in order: by buckets, as from tempo to tempo too many change places for an
/// order kept from the tempo before. Tells the sum and its slope at 0.
BeyondSum::Begin BeyondSum::order (double step)
{
    const bool wide = widest >= step / 2;
    const double scale = fractions / step, half = step / 2;
    constexpr std::int64_t oneHalf = std::int64_t{ 1 } << (fractionBits - 1);
    constexpr std::int64_t fraction = (std::int64_t{ 1 } << fractionBits) - 1;
    std::fill (filled.begin(), filled.end(), 0);
    Begin begin;
    std::size_t count = 0;
    const auto put = [&] (double at, double ahead, std::int64_t turned, double turn)
    {
        const auto fixed = static_cast<std::int64_t> (at * scale) + turned;
        const double on = at + ahead - step * static_cast<double> (fixed >> fractionBits);
        const double pos = on < 0 ? on + step : on;
        const auto bucket = static_cast<std::uint32_t> ((fixed & fraction) >> (fractionBits - bucketBits));
        made[count++] = { pos, turn, bucket };
        ++filled[bucket + 1];
        begin.slope += turn * pos;
        return pos;
    };
    for (const auto& hit : hits)
    {
        // Hits whose limits reach all around cost nothing anywhere.
        if (wide && hit.half >= half)
            continue;
        put (hit.at - hit.half, 0, 0, hit.weight);
        put (hit.at + hit.half, 0, 0, hit.weight);
        // As far as the opposite point lies from the middle of the circle, so far lies the hit from 0.
        const double opposite = put (hit.at, half, oneHalf, -2 * hit.weight);
        begin.value += hit.weight * std::max (0.0, std::abs (opposite - half) - hit.half);
    }
    // Once round the circle the sum comes back to itself: that tells the slope it begins with.
    begin.slope /= step;
    for (std::size_t i = 1; i < filled.size(); ++i)
        filled[i] += filled[i - 1];
    points.resize (count);
    for (std::size_t i = 0; i < count; ++i)
        points[filled[made[i].bucket]++] = { made[i].pos, made[i].turn };
    // Inside a bucket, and where rounding put one into its neighbour.
    for (std::size_t i = 1; i < count; ++i)
    {
        const auto moved = points[i];
        std::size_t to = i;
        for (; to > 0 && moved.pos < points[to - 1].pos; --to)
            points[to] = points[to - 1];
        points[to] = moved;
    }
    return begin;
}

FitPoint BeyondSum::least (double step, const Arcs& arcs, bool everywhere)
{
    const auto begin = order (step);
    double value = begin.value, slope = begin.slope;
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
