#include "scan/Changes.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace shutterbeat::scan
{
namespace
{
constexpr std::ptrdiff_t usualReach = 8; // distinct pictures each way
constexpr double usualShare = 0.75;      // of what is usual round a change is taken off
constexpr float edgeAllowance = 0.1F;    // the first and last pictures have one neighbour only
constexpr std::int64_t apart = 2;        // file frames: of changes this near one stays
constexpr float same = 0.25F;            // below it the picture after is the picture before
constexpr std::int64_t longestDamage = 4;
constexpr std::int64_t longestDip = 12;
constexpr std::int64_t fadeEdge = 4; // changes this near a black stretch belong to it

const Return* returnBetween (const Measures& measures, std::int64_t first, std::int64_t second, std::int64_t tolerance)
{
    const Return* best = nullptr;
    const auto from = std::lower_bound (measures.returns.begin(), measures.returns.end(), first - tolerance,
                                        [] (const Return& r, std::int64_t frame) { return r.first < frame; });
    for (auto r = from; r != measures.returns.end() && r->first <= first + tolerance; ++r)
        if (std::abs (r->second - second) <= tolerance && (best == nullptr || r->distance < best->distance))
            best = &*r;
    return best;
}

/// Whether the picture next to a blank stretch is at full strength, and not the end of a fade. `away` leads from the stretch.
bool isHardEdge (const Measures& measures, std::int64_t edge, std::int64_t away)
{
    constexpr std::int64_t farther = 12;
    const auto last = static_cast<std::int64_t> (measures.frames.size()) - 1;
    const auto strength = [&] (std::int64_t n)
    {
        const FrameMeasure& frame = measures.frames[static_cast<std::size_t> (std::clamp<std::int64_t> (n, 0, last))];
        return std::max (frame.contrast, frame.detail / 4);
    };
    constexpr float plain = 20; // a fade leaves less than that for its last step
    return measures.frames[static_cast<std::size_t> (std::clamp<std::int64_t> (edge, 0, last))].contrast > plain
           || strength (edge) > 0.6F * std::max (strength (edge + away * farther), strength (edge + away * farther / 2));
}

/// The part of a black stretch that is as dark as its middle: where a fade has really ended, and where one begins.
Span settledPart (const Measures& measures, const Span& span)
{
    const auto& frames = measures.frames;
    const std::int64_t quarter = (span.end - span.first) / 4;
    float level = 0;
    float contrast = 0;
    for (auto n = span.first + quarter; n < span.end - quarter; ++n)
    {
        level += frames[static_cast<std::size_t> (n)].level;
        contrast += frames[static_cast<std::size_t> (n)].contrast;
    }
    const auto count = static_cast<float> (std::max<std::int64_t> (1, span.end - span.first - 2 * quarter));
    const auto isSettled = [&] (std::int64_t n)
    {
        const FrameMeasure& frame = frames[static_cast<std::size_t> (n)];
        return frame.level <= level / count + 0.4F && frame.contrast <= contrast / count + 0.35F;
    };
    Span part = span;
    while (part.first < span.first + 2 * quarter && ! isSettled (part.first))
        ++part.first;
    while (part.end > span.end - 2 * quarter && ! isSettled (part.end - 1))
        --part.end;
    return part;
}

/// Whether the change at n is the picture sinking into darkness (the new one has begun to show at a later change).
bool isFadedOut (const Measures& measures, std::int64_t n)
{
    const auto at = [&] (std::int64_t i) -> const FrameMeasure&
    {
        const auto last = static_cast<std::int64_t> (measures.frames.size()) - 1;
        return measures.frames[static_cast<std::size_t> (std::clamp<std::int64_t> (i, 0, last))];
    };
    // A small writing that stays may hold the contrast up; then the level tells.
    constexpr float nearlyGone = 16; // grey levels: from more than that to black in one step is a cut
    const auto sinks = [&] (float FrameMeasure::*value)
    {
        const float before = std::max (at (n - 1).*value, at (n - 2).*value);
        const float after = std::max (at (n).*value, at (n + 1).*value);
        const float earlier = std::max (at (n - 6).*value, at (n - 11).*value);
        return before < nearlyGone && after < 0.45F * before && before < 0.75F * earlier;
    };
    return sinks (&FrameMeasure::contrast) || sinks (&FrameMeasure::level);
}

/// Removes all changes within [first, end] and gives the strongest of them, 0 if none.
double take (std::vector<Change>& changes, std::int64_t first, std::int64_t end)
{
    double strongest = 0;
    std::erase_if (changes,
                   [&] (const Change& change)
                   {
                       const bool inside = change.frame >= first && change.frame <= end;
                       if (inside)
                           strongest = std::max (strongest, change.strength);
                       return inside;
                   });
    return strongest;
}

/// True when the light at `edge` is well below what it was `away` from the dark: an iris or a fade is under way, and what
/// lies beyond the dark need not be the same shot however little of it is left to compare.
bool sinksTowards (const Measures& measures, std::int64_t edge, std::int64_t away)
{
    constexpr std::int64_t farther = 12;
    constexpr float sunk = 0.6F;
    const auto last = static_cast<std::int64_t> (measures.frames.size()) - 1;
    const auto level = [&] (std::int64_t n)
    { return measures.frames[static_cast<std::size_t> (std::clamp<std::int64_t> (n, 0, last))].level; };
    return level (edge) < sunk * level (edge + away * farther);
}

/// True when the change at n is a step of an iris (or a fade) that opens out of black, or closes into it: the little that
/// is seen of the picture may change much from one frame to the next, yet it is the same shot.
bool isIrisStep (const Measures& measures, const std::vector<Span>& light, std::int64_t n)
{
    if (isBlank (measures.frames[static_cast<std::size_t> (n)]) || isBlank (measures.frames[static_cast<std::size_t> (n - 1)]))
        return false;
    return std::any_of (light.begin(), light.end(),
                        [&] (const Span& s)
                        {
                            if (s.kind != SpanKind::black || s.end - s.first <= longestDamage)
                                return false;
                            return (n > s.end && n <= s.end + irisFrames && sinksTowards (measures, n, 1))
                                   || (n < s.first && n >= s.first - irisFrames && sinksTowards (measures, n - 1, -1));
                        });
}
} // namespace

std::vector<float> changeCurve (const Measures& measures)
{
    std::vector<std::size_t> distinct;
    for (std::size_t n = 0; n < measures.frames.size(); ++n)
        if (! measures.frames[n].repeat)
            distinct.push_back (n);
    const auto count = static_cast<std::ptrdiff_t> (distinct.size());
    std::vector<float> raw;
    for (const std::size_t n : distinct)
    {
        const FrameMeasure& frame = measures.frames[n];
        raw.push_back (frame.fine < 0 ? frame.cut : 0.5F * (frame.cut + std::min (1.0F, frame.fine * 1.3F)));
    }
    std::vector<float> curve (measures.frames.size());
    for (std::ptrdiff_t k = 1; k < count; ++k)
    {
        std::vector<float> near (raw.begin() + std::max<std::ptrdiff_t> (1, k - usualReach),
                                 raw.begin() + std::min (count, k + usualReach + 1));
        const auto middle = near.begin() + static_cast<std::ptrdiff_t> (near.size() / 2);
        std::nth_element (near.begin(), middle, near.end());
        float value = raw[static_cast<std::size_t> (k)] - static_cast<float> (usualShare) * *middle;
        if (k == 1 || k + 1 == count)
            value -= edgeAllowance;
        curve[distinct[static_cast<std::size_t> (k)]] = std::clamp (value, 0.0F, 1.0F);
    }
    return curve;
}

std::vector<Change> changesAbove (const Measures& measures, const std::vector<float>& curve, double threshold,
                                  std::int64_t shortestBlack, std::vector<Span>& spans)
{
    const auto frames = static_cast<std::int64_t> (curve.size());
    std::vector<Change> changes;
    for (std::int64_t n = 1; n < frames; ++n)
    {
        const double strength = curve[static_cast<std::size_t> (n)];
        if (strength < threshold || isFadedOut (measures, n))
            continue;
        // Of two that are near each other the stronger stays; but a flash on the splice may make its end the stronger.
        if (! changes.empty() && n - changes.back().frame <= apart)
        {
            const std::int64_t earlier = changes.back().frame;
            const bool flash =
                std::any_of (spans.begin(), spans.end(),
                             [&] (const Span& s) { return s.first >= earlier && s.first < n && s.end - s.first <= 4; });
            if (strength > changes.back().strength * (flash ? 1.1 : 1.0))
                changes.back() = { n, strength };
        }
        else
            changes.push_back ({ n, strength });
    }

    // Black and white stretches first: what lies at their edges is theirs.
    std::vector<Span> told;
    for (auto& span : spans)
    {
        if (span.kind != SpanKind::black && span.kind != SpanKind::white)
            continue;
        const bool atStart = span.first <= 1;
        const bool atEnd = span.end >= frames - 1;
        const Return* back = returnBetween (measures, span.first, span.end, fadeEdge + 2);
        const bool comesBack = ! atStart && ! atEnd && back != nullptr && back->distance < same
                               && ! sinksTowards (measures, span.first - 2, -1) && ! sinksTowards (measures, span.end + 1, 1);
        // Too short to be a gap: what changes there speaks for itself.
        if (! comesBack && span.end - span.first <= longestDamage)
            continue;
        const std::int64_t middle = (span.first + span.end) / 2;
        const std::int64_t edge = std::clamp<std::int64_t> ((span.end - span.first) / 2, 1, fadeEdge);
        const double strengthIn = take (changes, span.first - edge, middle);
        const double strengthOut = take (changes, middle, span.end + edge);
        const double strength = std::max (strengthIn, strengthOut);
        const bool hardIn = strengthIn >= threshold && isHardEdge (measures, span.first - 1, -1);
        const bool hardOut = strengthOut >= threshold && isHardEdge (measures, span.end, 1);
        const double said = std::max (strength, threshold);
        const std::int64_t length = span.end - span.first;
        const bool shot = span.kind == SpanKind::black && length >= shortestBlack;
        if (comesBack && length <= longestDip)
        {
            span.kind = span.kind == SpanKind::black ? SpanKind::dip : SpanKind::flash;
            continue;
        }
        // A fade belongs to the shot it fades; black or white with two hard edges stands alone unless it is very short.
        const bool in = ! atStart && (shot || (hardIn && (! hardOut || length > longestDamage)));
        const bool out = ! atEnd
                         && (shot        ? ! atStart || hardOut
                             : ! atStart ? (hardOut || ! hardIn)
                                         : hardOut && length > longestDamage);
        const Span settled = settledPart (measures, span);
        if (in)
            changes.push_back ({ hardIn ? span.first : settled.first, said });
        if (out)
            changes.push_back ({ hardOut || ! shot ? span.end : settled.end, said });
    }
    std::erase_if (changes, [&] (const Change& change) { return isIrisStep (measures, spans, change.frame); });
    std::sort (changes.begin(), changes.end(), [] (const Change& a, const Change& b) { return a.frame < b.frame; });

    // A picture that comes back after a few others was only disturbed.
    for (std::size_t i = 0; i + 1 < changes.size();)
    {
        const std::int64_t first = changes[i].frame;
        const std::int64_t end = changes[i + 1].frame;
        const Return* back = end - first <= longestDamage ? returnBetween (measures, first, end, 0) : nullptr;
        if (back != nullptr && back->distance < same)
        {
            const bool listed =
                std::any_of (spans.begin(), spans.end(), [&] (const Span& s) { return s.first < end && s.end > first; });
            if (! listed)
                told.push_back ({ first, end, SpanKind::damage });
            changes.erase (changes.begin() + static_cast<std::ptrdiff_t> (i),
                           changes.begin() + static_cast<std::ptrdiff_t> (i + 2));
        }
        else
            ++i;
    }
    spans.insert (spans.end(), told.begin(), told.end());
    std::stable_sort (spans.begin(), spans.end(), [] (const Span& a, const Span& b) { return a.first < b.first; });
    return changes;
}
} // namespace shutterbeat::scan
