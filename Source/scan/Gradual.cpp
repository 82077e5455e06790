#include "scan/Changes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace shutterbeat::scan
{
namespace
{
constexpr std::int64_t slowFrames = 6; // a cut this near explains what looks gradual

/// The middle of five values round n.
float smoothed (const std::vector<FrameMeasure>& frames, std::int64_t n, float FrameMeasure::*value)
{
    const auto last = static_cast<std::int64_t> (frames.size()) - 1;
    std::array<float, 5> near{};
    for (std::int64_t i = 0; i < 5; ++i)
        near[static_cast<std::size_t> (i)] =
            frames[static_cast<std::size_t> (std::clamp<std::int64_t> (n + i - 2, 0, last))].*value;
    std::nth_element (near.begin(), near.begin() + 2, near.end());
    return near[2];
}

/// What lies between the blank stretch whose outermost frame is `edge` and the full picture, `away` from it. Nothing: a cut.
std::optional<Span> fadeAt (const Measures& measures, const std::vector<float>& curve, std::int64_t edge, std::int64_t away)
{
    constexpr std::int64_t longest = 75;
    constexpr std::int64_t settles = 24; // frames past the fade that say what the full picture is
    constexpr float nearlyFull = 0.85F;
    constexpr float cutHere = 0.3F;
    constexpr std::int64_t shortest = 3;
    const auto& frames = measures.frames;
    const auto last = static_cast<std::int64_t> (frames.size()) - 1;
    // As far as the next cut, the next blank stretch, or the end.
    std::int64_t room = 0;
    while (room < longest + settles)
    {
        const std::int64_t n = edge + away * (room + 1);
        if (n < 0 || n > last || (room > shortest && isBlank (frames[static_cast<std::size_t> (n)])))
            break;
        const std::int64_t boundary = away > 0 ? n : n + 1;
        if (room > shortest && boundary <= last && curve[static_cast<std::size_t> (boundary)] > cutHere
            && frames[static_cast<std::size_t> (n)].contrast > 12)
            break;
        ++room;
    }
    if (room < 2 * shortest)
        return std::nullopt;
    // The full picture: the upper quarter of what lies there, so that a picture that sinks again does not count. An iris
    // takes the light away before the contrast, a fade both at once: the lesser counts.
    const auto upperQuarter = [] (std::vector<float> sorted)
    {
        const auto upper = sorted.begin() + static_cast<std::ptrdiff_t> (sorted.size() * 3 / 4);
        std::nth_element (sorted.begin(), upper, sorted.end());
        return *upper;
    };
    const float blankLevel = smoothed (frames, edge - away * 2, &FrameMeasure::level);
    std::vector<float> values;
    std::vector<float> lights;
    for (std::int64_t k = 1; k <= room; ++k)
    {
        values.push_back (smoothed (frames, edge + away * k, &FrameMeasure::contrast));
        lights.push_back (std::abs (smoothed (frames, edge + away * k, &FrameMeasure::level) - blankLevel));
    }
    const float fullContrast = std::max (1.0F, upperQuarter (values));
    const float fullLight = std::max (1.0F, upperQuarter (lights));
    for (std::size_t k = 0; k < values.size(); ++k)
        values[k] = std::min (values[k] / fullContrast, lights[k] / fullLight);
    std::int64_t length = 0;
    while (length < room && values[static_cast<std::size_t> (length)] < nearlyFull)
        ++length;
    if (length < shortest || length > longest || values.front() > 0.6F)
        return std::nullopt;
    Span span;
    span.first = away > 0 ? edge + 1 : edge - length;
    span.end = away > 0 ? edge + 1 + length : edge;
    span.strength = std::min (1.0, static_cast<double> (length) / 8.0);
    // Half way in light a fade has lost half of its lightest parts, an iris none of them.
    const float fullLevel = smoothed (frames, edge + away * (length + 3), &FrameMeasure::level);
    const float fullPeak = smoothed (frames, edge + away * (length + 3), &FrameMeasure::peak);
    const bool dark = blankLevel < fullLevel;
    std::int64_t half = 1;
    while (half < length
           && std::abs (smoothed (frames, edge + away * half, &FrameMeasure::level) - blankLevel)
                  < 0.4F * std::abs (fullLevel - blankLevel))
        ++half;
    const float halfPeak = smoothed (frames, edge + away * half, &FrameMeasure::peak);
    span.kind = dark && halfPeak - blankLevel > 0.75F * (fullPeak - blankLevel) ? SpanKind::iris : SpanKind::fade;
    return span;
}
} // namespace

std::vector<Span> fadesOf (const Measures& measures, const std::vector<float>& curve, const std::vector<Span>& light)
{
    constexpr std::int64_t shortest = 3;
    std::vector<Span> fades;
    for (const Span& span : light)
    {
        if ((span.kind != SpanKind::black && span.kind != SpanKind::white) || span.end - span.first < shortest)
            continue;
        if (const auto out = fadeAt (measures, curve, span.first, -1))
            fades.push_back (*out);
        if (const auto in = fadeAt (measures, curve, span.end - 1, 1))
            fades.push_back (*in);
    }
    // Of two that overlap the longer stays: a short black within a fade has edges of its own.
    std::stable_sort (fades.begin(), fades.end(), [] (const Span& a, const Span& b) { return a.end - a.first > b.end - b.first; });
    std::vector<Span> kept;
    for (const Span& fade : fades)
        if (std::none_of (kept.begin(), kept.end(), [&] (const Span& s) { return s.first < fade.end && s.end > fade.first; }))
            kept.push_back (fade);
    std::stable_sort (kept.begin(), kept.end(), [] (const Span& a, const Span& b) { return a.first < b.first; });
    return kept;
}

std::vector<GradualChange> gradualChanges (const Measures& measures, const std::vector<Span>& light)
{
    constexpr float unlike = 0.3F; // the pictures on both sides
    constexpr float mixed = 0.65F; // what lies between them
    constexpr std::size_t shortest = 6;
    constexpr float lively = 0.35F; // of the contrast of one side the other has at least so much, else it is a fade
    std::vector<std::size_t> distinct;
    for (std::size_t n = 0; n < measures.frames.size(); ++n)
        if (! measures.frames[n].repeat && measures.frames[n].slow >= 0)
            distinct.push_back (n);
    const auto frameAt = [&] (std::size_t i) -> const FrameMeasure&
    { return measures.frames[distinct[std::min (i, distinct.size() - 1)]]; };
    std::vector<GradualChange> changes;
    for (std::size_t k = 0; k < distinct.size();)
    {
        std::size_t end = k;
        while (end < distinct.size() && frameAt (end).slow > unlike && frameAt (end).mix > mixed)
            ++end;
        if (end - k >= shortest)
        {
            GradualChange change;
            change.span.first = static_cast<std::int64_t> (distinct[k]);
            change.span.end = static_cast<std::int64_t> (distinct[end - 1]) + 1;
            change.from = change.span.first - slowFrames;
            change.to = change.span.end + slowFrames;
            std::size_t divided = 0;
            double strength = 0;
            for (std::size_t i = k; i < end; ++i)
            {
                divided += frameAt (i).divided ? 1 : 0;
                strength = std::max (strength, static_cast<double> (frameAt (i).mix * std::min (1.0F, frameAt (i).slow * 1.5F)));
            }
            change.span.strength = strength;
            change.span.kind = 2 * divided > end - k ? SpanKind::wipe : SpanKind::dissolve;
            const auto near = [&change] (const Span& s, std::int64_t around)
            { return s.end - s.first > 4 && s.first <= change.span.end + around && s.end >= change.span.first - around; };
            // An iris that opens out of black, or closes into it, turns no shot into another.
            const bool explained =
                std::any_of (light.begin(), light.end(),
                             [&] (const Span& s) {
                                 return s.kind != SpanKind::damage && near (s, s.kind == SpanKind::black ? irisFrames : slowFrames);
                             });
            const float before = frameAt (k >= 9 ? k - 9 : 0).contrast;
            const float after = frameAt (end + 8).contrast;
            if (! explained && std::min (before, after) > lively * std::max (before, after))
                changes.push_back (change);
        }
        k = std::max (end, k + 1);
    }
    return changes;
}
} // namespace shutterbeat::scan
