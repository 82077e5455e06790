#include "lineup/TakeLine.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace shutterbeat::lineup
{
namespace
{
constexpr double reach = 0.040;
// What a line's score loses for each second it lies beside the picture: a sound is rather a little late than a beat early.
constexpr double perSecond = 0.05;

/// A beat and the onset matched to it.
struct Pair
{
    double written = 0; ///< from the first beat
    double heard = 0;   ///< likewise
    double weight = 1;
};

std::vector<Pair> pairsOf (const std::vector<Onset>& onsets, const std::vector<double>& beats, double late, double ratio,
                           double window)
{
    std::vector<Pair> pairs;
    const double first = beats.front();
    std::size_t next = 0, lastUsed = onsets.size();
    for (const double beat : beats)
    {
        const double wanted = first + late + ratio * (beat - first);
        while (next + 1 < onsets.size() && std::abs (onsets[next + 1].seconds - wanted) <= std::abs (onsets[next].seconds - wanted))
            ++next;
        if (std::abs (onsets[next].seconds - wanted) > window || next == lastUsed)
            continue;
        pairs.push_back ({ beat - first, onsets[next].seconds - first, 1 });
        lastUsed = next;
    }
    return pairs;
}

struct Straight
{
    double late = 0, ratio = 1;
};

/// Least squares of the weighted pairs; held, with few pairs, or all in one place, the ratio stays.
Straight straightOf (const std::vector<Pair>& pairs, double ratio, bool held)
{
    double sum = 0, x = 0, y = 0;
    for (const auto& pair : pairs)
    {
        sum += pair.weight;
        x += pair.weight * pair.written;
        y += pair.weight * pair.heard;
    }
    if (sum <= 0)
        return { 0, ratio };
    x /= sum;
    y /= sum;
    double xx = 0, xy = 0;
    for (const auto& pair : pairs)
    {
        xx += pair.weight * (pair.written - x) * (pair.written - x);
        xy += pair.weight * (pair.written - x) * (pair.heard - y);
    }
    const double slope = ! held && pairs.size() >= 6 && xx > 1 ? xy / xx : ratio;
    return { y - slope * x, slope };
}

Straight robust (std::vector<Pair>& pairs, Straight line, bool held)
{
    for (int turn = 0; turn < 4; ++turn)
    {
        for (auto& pair : pairs)
        {
            const double off = std::abs (pair.heard - line.late - line.ratio * pair.written);
            pair.weight = off <= 0.015 ? 1 : 0.015 / off;
        }
        line = straightOf (pairs, line.ratio, held);
    }
    return line;
}

/// Errors of the line and how far its sixths lie off it.
void measure (const std::vector<Pair>& pairs, TakeLine& line, bool held)
{
    const auto count = static_cast<double> (pairs.size());
    double squares = 0, mean = 0, neighbours = 0, last = 0;
    std::vector<double> offs;
    for (const auto& pair : pairs)
    {
        const double off = pair.heard - line.late - line.ratio * pair.written;
        squares += off * off;
        neighbours += offs.empty() ? 0 : off * last;
        mean += pair.written / count;
        last = off;
        offs.push_back (off);
    }
    line.scatter = std::sqrt (squares / std::max (1.0, count - 2));
    double spread = 0;
    for (const auto& pair : pairs)
        spread += (pair.written - mean) * (pair.written - mean);
    // Players who are late stay late for a while: neighbours that agree make the line less sure.
    const double alike = std::clamp (squares > 0 ? neighbours / squares : 0, 0.0, 0.95);
    const double wider = std::sqrt ((1 + alike) / (1 - alike));
    line.ratioError = held ? 0 : spread > 0 ? wider * line.scatter / std::sqrt (spread) : 1;
    const double middle = wider * line.scatter / std::sqrt (count);
    line.lateError = std::hypot (middle, line.ratioError * mean);
    constexpr std::size_t blocks = 6;
    double lateSum = 0, ratioSum = 0, lateSquares = 0, ratioSquares = 0;
    for (std::size_t b = 0; b < blocks; ++b)
    {
        const std::size_t from = pairs.size() * b / blocks, to = pairs.size() * (b + 1) / blocks;
        auto rest = pairs;
        rest.erase (rest.begin() + static_cast<std::ptrdiff_t> (from), rest.begin() + static_cast<std::ptrdiff_t> (to));
        const auto without = straightOf (rest, line.ratio, held);
        lateSum += without.late;
        ratioSum += without.ratio;
        lateSquares += without.late * without.late;
        ratioSquares += without.ratio * without.ratio;
        if (to - from < 3)
            continue;
        std::vector<double> here (offs.begin() + static_cast<std::ptrdiff_t> (from),
                                  offs.begin() + static_cast<std::ptrdiff_t> (to));
        std::nth_element (here.begin(), here.begin() + static_cast<std::ptrdiff_t> (here.size() / 2), here.end());
        line.bend = std::max (line.bend, std::abs (here[here.size() / 2]));
    }
    const double n = blocks;
    const auto jackknife = [n] (double sum, double sumOfSquares)
    { return std::sqrt (std::max (0.0, (n - 1) / n * (sumOfSquares - sum * sum / n))); };
    line.lateError = std::max (line.lateError, jackknife (lateSum, lateSquares));
    line.ratioError = std::max (line.ratioError, jackknife (ratioSum, ratioSquares));
}

/// How much is heard around each moment, 5 ms apart: 1 on a strong onset, falling off as a bell of 20 ms.
Curve bellsOf (const std::vector<Onset>& onsets, double soundLength)
{
    Curve bells{ 0.005, std::vector<float> (static_cast<std::size_t> (std::max (0.0, soundLength) / 0.005) + 2, 0.0f) };
    std::vector<float> strengths;
    for (const auto& onset : onsets)
        strengths.push_back (onset.strength);
    const float usual = std::max (1e-6f, percentile (strengths, 0.8));
    for (const auto& onset : onsets)
    {
        const float height = std::clamp (std::sqrt (onset.strength / usual), 0.3f, 1.0f);
        const auto middle = std::lround (onset.seconds / bells.hop);
        for (long i = middle - 12; i <= middle + 12; ++i)
        {
            if (i < 0 || i >= static_cast<long> (bells.values.size()))
                continue;
            const double off = (static_cast<double> (i) * bells.hop - onset.seconds) / 0.020;
            auto& value = bells.values[static_cast<std::size_t> (i)];
            value = std::max (value, height * static_cast<float> (std::exp (-0.5 * off * off)));
        }
    }
    return bells;
}

struct Guess
{
    double late = 0, ratio = 1;
    float score = 0;
};

/// The best guesses of a whole field of ratios and offsets, one for each ratio and quarter second of offset that holds a top.
std::vector<Guess> guessesOf (const Curve& bells, const std::vector<double>& beats, const LineSearch& search)
{
    // Two minutes tell what there is; what they leave open the rest decides in lineNear.
    std::vector<double> some;
    for (const double beat : beats)
        if (beat - beats.front() < 120)
            some.push_back (beat - beats.front());
    while (some.size() > 160)
    {
        std::vector<double> half;
        for (std::size_t i = 0; i < some.size(); i += 2)
            half.push_back (some[i]);
        some = half;
    }
    const double span = std::max (4.0, some.back());
    const double step = 0.024 / span;
    const auto steps = static_cast<long> ((search.slowest - search.fastest) / step) + 1;
    const auto offsets = static_cast<long> (search.furthest / bells.hop);
    const auto length = static_cast<long> (bells.values.size());
    std::vector<Guess> guesses;
    std::vector<float> sums (static_cast<std::size_t> (2 * offsets + 1));
    for (long s = 0; s < steps; ++s)
    {
        if (search.goOn && s % 64 == 0 && ! search.goOn (static_cast<double> (s) / static_cast<double> (steps)))
            return {};
        const double ratio = search.fastest + static_cast<double> (s) * step;
        std::fill (sums.begin(), sums.end(), 0.0f);
        for (const double beat : some)
        {
            const long at = std::lround ((beats.front() + ratio * beat) / bells.hop) - offsets;
            const long from = std::max (0L, -at), to = std::min (2 * offsets + 1, length - at);
            for (long i = from; i < to; ++i)
                sums[static_cast<std::size_t> (i)] += bells.values[static_cast<std::size_t> (at + i)];
        }
        constexpr long cell = 50;
        for (long from = 0; from < 2 * offsets + 1; from += cell)
        {
            const auto begin = sums.begin() + from;
            const auto top = std::max_element (begin, sums.begin() + std::min (from + cell, 2 * offsets + 1));
            const double late = static_cast<double> (top - sums.begin() - offsets) * bells.hop;
            guesses.push_back (
                { late, ratio, *top / static_cast<float> (some.size()) - static_cast<float> (perSecond * std::abs (late)) });
        }
    }
    const std::size_t kept = std::min<std::size_t> (240, guesses.size());
    std::partial_sort (guesses.begin(), guesses.begin() + static_cast<std::ptrdiff_t> (kept), guesses.end(),
                       [] (const Guess& a, const Guess& b) { return a.score > b.score; });
    guesses.resize (kept);
    return guesses;
}
TakeLine fitted (const std::vector<Onset>& onsets, const std::vector<double>& beats, double soundLength, double late, double ratio,
                 bool held)
{
    Straight line{ late, ratio };
    std::vector<Pair> pairs;
    // The line's own origin is the first beat: heard - first = late + ratio (written - first).
    for (const double window : { 0.120, 0.080, 0.050, reach })
    {
        pairs = pairsOf (onsets, beats, line.late, line.ratio, window);
        if (pairs.size() < 4)
            break;
        line = robust (pairs, line, held);
    }
    TakeLine found;
    found.late = line.late;
    found.ratio = line.ratio;
    pairs = pairsOf (onsets, beats, line.late, line.ratio, reach);
    found.matched = pairs.size();
    double from = 1e9, to = -1e9;
    for (const double beat : beats)
        if (const double at = found.at (beats.front(), beat); at >= -reach && at <= soundLength)
        {
            ++found.beats;
            from = std::min (from, at);
            to = std::max (to, at);
        }
    std::size_t inside = 0;
    for (const auto& onset : onsets)
        inside += onset.seconds >= from - reach && onset.seconds <= to + reach ? 1 : 0;
    // Beats that the line puts outside the sound were not played: they count as missed.
    const auto few = static_cast<double> (std::max<std::size_t> (8, std::min (beats.size(), inside)));
    found.share = static_cast<double> (found.matched) / few;
    const double density = to > from ? static_cast<double> (inside) / (to - from) : 0;
    const double hit = 1 - std::exp (-2 * reach * density);
    found.chance = hit * static_cast<double> (found.beats) / few;
    if (pairs.size() >= 6)
        measure (pairs, found, held);
    double close = 0;
    for (const auto& pair : pairs)
    {
        const double off = (pair.heard - line.late - line.ratio * pair.written) / 0.018;
        close += std::exp (-0.5 * off * off);
    }
    found.score =
        close / few - 0.6 * found.chance - perSecond * std::abs (found.late) - (std::abs (found.ratio - 1) > 0.0003 ? 0.01 : 0);
    return found;
}
} // namespace

TakeLine lineNear (const std::vector<Onset>& onsets, const std::vector<double>& beats, double soundLength, double late,
                   double ratio)
{
    return onsets.empty() || beats.empty() ? TakeLine{} : fitted (onsets, beats, soundLength, late, ratio, false);
}

TakeLine offsetNear (const std::vector<Onset>& onsets, const std::vector<double>& beats, double soundLength, double late)
{
    return onsets.empty() || beats.empty() ? TakeLine{} : fitted (onsets, beats, soundLength, late, 1, true);
}

std::vector<TakeLine> linesOf (const std::vector<Onset>& onsets, const std::vector<double>& beats, double soundLength,
                               const LineSearch& search)
{
    if (onsets.size() < 8 || beats.size() < 8 || beats.back() - beats.front() < 4)
        return {};
    auto guesses = guessesOf (bellsOf (onsets, soundLength), beats, search);
    if (! guesses.empty())
        guesses.push_back ({ 0, 1, 0 });
    std::vector<TakeLine> lines;
    for (const auto& guess : guesses)
        if (auto line = lineNear (onsets, beats, soundLength, guess.late, guess.ratio);
            line.matched >= 6 && std::abs (line.late) <= search.furthest + 0.1)
            lines.push_back (line);
    std::sort (lines.begin(), lines.end(), [] (const TakeLine& a, const TakeLine& b) { return a.score > b.score; });
    std::vector<TakeLine> apart;
    for (const auto& line : lines)
    {
        const auto same = [&] (const TakeLine& other)
        {
            return std::abs (line.late - other.late) < 0.030
                   && std::abs (line.at (beats.front(), beats.back()) - other.at (beats.front(), beats.back())) < 0.030;
        };
        if (std::none_of (apart.begin(), apart.end(), same))
            apart.push_back (line);
    }
    return apart;
}
} // namespace shutterbeat::lineup
