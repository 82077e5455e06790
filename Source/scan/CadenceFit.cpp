#include "scan/CadenceFit.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace shutterbeat::scan
{
double medianOf (std::vector<double> values)
{
    if (values.empty())
        return 0;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t> (values.size() / 2);
    std::nth_element (values.begin(), middle, values.end());
    return *middle;
}

namespace
{
// A stretch answers for itself only when its evidence passes all three; measured so that stills and one-to-one films never do.
constexpr double leastEvidence = 20;    // log likelihood ratio against "no repeats"
constexpr double leastOverMany = 14;    // the same where there are many frames to go by: chance has never brought more than 7
constexpr double leastSeparation = 1.2; // between repeats and new pictures, in standard deviations
constexpr double leastMargin = 4;       // over the next best pattern
constexpr std::int64_t shortestStretch = 24;
constexpr std::int64_t usualStretch = 150;
constexpr std::int64_t manyFrames = 120;

/// Each value less the middle of those up to `reach` frames from it in the same shot, within [low, high].
std::vector<double> relative (const std::vector<double>& values, const std::vector<bool>& isHead, std::ptrdiff_t reach, double low,
                              double high)
{
    const auto n = static_cast<std::ptrdiff_t> (values.size());
    std::vector<double> x (values.size());
    std::vector<double> near;
    for (std::ptrdiff_t i = 0; i < n; ++i)
    {
        near.clear();
        for (std::ptrdiff_t j = i; j >= std::max<std::ptrdiff_t> (1, i - reach) && ! isHead[static_cast<std::size_t> (j)]; --j)
            near.push_back (values[static_cast<std::size_t> (j)]);
        for (std::ptrdiff_t j = i + 1; j < std::min (n, i + reach + 1) && ! isHead[static_cast<std::size_t> (j)]; ++j)
            near.push_back (values[static_cast<std::size_t> (j)]);
        x[static_cast<std::size_t> (i)] = std::clamp (values[static_cast<std::size_t> (i)] - medianOf (near), low, high);
    }
    return x;
}

struct Fit
{
    double evidence = 0;
    double newMean = 0, repeatMean = 0, deviation = 1;
};

/// How much better x[first, end) is explained by two levels along the pattern than by one.
Fit fit (const std::vector<double>& x, const std::vector<bool>& isHead, std::int64_t first, std::int64_t end,
         const CadencePattern& pattern, std::size_t rotation)
{
    std::array<double, 2> sum{};
    std::array<double, 2> square{};
    std::array<double, 2> count{};
    const std::size_t period = pattern.isNew.size();
    std::size_t phase = (static_cast<std::size_t> (first) + rotation) % period;
    for (std::int64_t i = first; i < end; ++i)
    {
        if (! isHead[static_cast<std::size_t> (i)])
        {
            const std::size_t kind = pattern.isNew[phase] ? 1 : 0;
            const double value = x[static_cast<std::size_t> (i)];
            sum[kind] += value;
            square[kind] += value * value;
            count[kind] += 1;
        }
        if (++phase == period)
            phase = 0;
    }
    Fit result;
    const double n = count[0] + count[1];
    if (count[0] < 2 || count[1] < 2)
        return result;
    result.repeatMean = sum[0] / count[0];
    result.newMean = sum[1] / count[1];
    const double total = square[0] + square[1] - (sum[0] + sum[1]) * (sum[0] + sum[1]) / n;
    const double within =
        std::max (square[0] - sum[0] * sum[0] / count[0], 0.0) + std::max (square[1] - sum[1] * sum[1] / count[1], 0.0) + 0.01 * n;
    result.deviation = std::sqrt (within / n);
    if (result.newMean > result.repeatMean)
        result.evidence = n / 2 * std::log ((total + 0.01 * n) / within);
    return result;
}

void judgeStretch (Stretch& stretch, const Movement& movement, const std::vector<CadencePattern>& patterns)
{
    double best = 0;
    double second = 0;
    int which = -1;
    Fit bestFit;
    for (std::size_t p = 0; p < patterns.size(); ++p)
    {
        Fit own;
        const auto& x = movement.along (patterns[p], stretch);
        for (std::size_t rotation = 0; rotation < patterns[p].isNew.size(); ++rotation)
        {
            const Fit f = fit (x, movement.isHead, stretch.first, stretch.end, patterns[p], rotation);
            if (f.evidence > own.evidence)
                own = f;
        }
        own.evidence -= patterns[p].handicap;
        if (own.evidence > best)
        {
            second = best;
            best = own.evidence;
            which = static_cast<int> (p);
            bestFit = own;
        }
        else
            second = std::max (second, own.evidence);
    }
    stretch.best = best;
    stretch.likely = which;
    stretch.newMean = bestFit.newMean;
    stretch.repeatMean = bestFit.repeatMean;
    stretch.deviation = bestFit.deviation;
    const double enough = stretch.end - stretch.first >= manyFrames ? leastOverMany : leastEvidence;
    if (best > enough && best - second > leastMargin && bestFit.newMean - bestFit.repeatMean > leastSeparation * bestFit.deviation)
        stretch.answer = which;
}

/// How much better the sharpness of a stretch is explained by a beat of `period` frames than by none; the periods' own
/// freedom is charged.
double beatEvidence (const std::vector<double>& sharpness, const std::vector<bool>& isHead, const Stretch& stretch,
                     std::size_t period)
{
    std::vector<double> sum (period);
    std::vector<double> count (period);
    double squares = 0;
    double all = 0;
    double n = 0;
    for (std::int64_t i = stretch.first; i < stretch.end; ++i)
    {
        if (isHead[static_cast<std::size_t> (i)])
            continue;
        const double value = sharpness[static_cast<std::size_t> (i)];
        sum[static_cast<std::size_t> (i) % period] += value;
        count[static_cast<std::size_t> (i) % period] += 1;
        squares += value * value;
        all += value;
        n += 1;
    }
    if (n < 3 * static_cast<double> (period))
        return 0;
    double explained = 0;
    for (std::size_t p = 0; p < period; ++p)
        explained += count[p] > 0 ? sum[p] * sum[p] / count[p] : 0;
    constexpr double floor = 1e-5; // a third of a percent: less is nothing
    const double total = squares - all * all / n + floor * n;
    const double within = squares - explained + floor * n;
    return n / 2 * std::log (total / within) - static_cast<double> (period - 1) / 2 * std::log (n);
}

/// Many pictures hardly differ from the one before while others do.
bool hasStrayRepeats (const std::vector<double>& x, const Stretch& stretch)
{
    constexpr double farBelow = -1;
    constexpr double moving = 1;      // grey levels
    constexpr std::int64_t share = 6; // one in six: in scenes that move by fits and starts one in nine was seen
    const std::int64_t length = stretch.end - stretch.first;
    return length >= 2 * shortestStretch && stretch.movement > moving
           && std::count_if (x.begin() + stretch.first, x.begin() + stretch.end, [] (double value) { return value < farBelow; })
                      * share
                  > length;
}

std::vector<Stretch> stretchesOf (const Measures& measures, const std::vector<std::int64_t>& heads)
{
    std::vector<Stretch> stretches;
    const auto frames = static_cast<std::int64_t> (measures.frames.size());
    std::vector<std::int64_t> edges{ 1 };
    for (const std::int64_t head : heads)
        if (head > edges.back() && head < frames)
            edges.push_back (head);
    edges.push_back (frames);
    for (std::size_t i = 0; i + 1 < edges.size(); ++i)
    {
        const std::int64_t length = edges[i + 1] - edges[i];
        const std::int64_t pieces = std::max<std::int64_t> (1, length / usualStretch);
        for (std::int64_t k = 0; k < pieces; ++k)
        {
            Stretch stretch;
            stretch.first = edges[i] + length * k / pieces;
            stretch.end = edges[i] + length * (k + 1) / pieces;
            std::vector<double> inside;
            for (auto n = stretch.first; n < stretch.end; ++n)
                inside.push_back (measures.frames[static_cast<std::size_t> (n)].difference);
            const auto upper = inside.begin() + static_cast<std::ptrdiff_t> (inside.size() * 3 / 4);
            if (! inside.empty())
            {
                std::nth_element (inside.begin(), upper, inside.end());
                stretch.movement = *upper;
            }
            stretches.push_back (stretch);
        }
    }
    return stretches;
}

} // namespace

const std::vector<double>& Movement::along (const CadencePattern& pattern, const Stretch& stretch) const
{
    static const time::Rational fewRepeats (4, 5); // one in five, or fewer
    return pattern.share >= fewRepeats && ! stretch.blended ? nearby : relative;
}

Movement movementOf (const Measures& measures, const std::vector<std::int64_t>& heads)
{
    Movement movement;
    movement.isHead.resize (measures.frames.size());
    for (const std::int64_t head : heads)
        if (head > 0 && head < static_cast<std::int64_t> (measures.frames.size()))
            movement.isHead[static_cast<std::size_t> (head)] = true;
    std::vector<double> logs;
    std::vector<double> sharp;
    logs.reserve (measures.frames.size());
    sharp.reserve (measures.frames.size());
    for (const FrameMeasure& frame : measures.frames)
    {
        logs.push_back (std::log (static_cast<double> (frame.motion) + 0.05));
        sharp.push_back (std::log (static_cast<double> (frame.sharp) + 0.001));
    }
    constexpr std::ptrdiff_t hereabouts = 7;
    movement.relative = relative (logs, movement.isHead, hereabouts, -4.0, 3.0);
    movement.nearby = relative (logs, movement.isHead, 2, -4.0, 3.0);
    movement.sharpness = relative (sharp, movement.isHead, hereabouts, -0.3, 0.3);
    return movement;
}

std::vector<Stretch> judgedStretches (const Measures& measures, const Movement& movement, const std::vector<std::int64_t>& heads,
                                      const std::vector<CadencePattern>& patterns)
{
    constexpr double leastBeat = 15;
    auto stretches = stretchesOf (measures, heads);
    for (auto& stretch : stretches)
    {
        if (stretch.end - stretch.first < shortestStretch)
            continue;
        stretch.stray = hasStrayRepeats (movement.relative, stretch);
        double beat = 0;
        for (const CadencePattern& pattern : patterns)
            beat = std::max (beat, beatEvidence (movement.sharpness, movement.isHead, stretch, pattern.isNew.size()));
        stretch.blended = beat > leastBeat;
        judgeStretch (stretch, movement, patterns);
    }
    return stretches;
}
} // namespace shutterbeat::scan
