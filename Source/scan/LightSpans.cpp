#include "scan/Changes.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::scan
{
namespace
{
constexpr std::int64_t longestFlash = 4; // file frames
constexpr float leastJump = 30;          // grey levels above or below both sides

float medianLevel (const std::vector<FrameMeasure>& frames, std::int64_t first, std::int64_t end)
{
    std::vector<float> levels;
    for (auto i = std::max<std::int64_t> (0, first); i < std::min<std::int64_t> (end, static_cast<std::int64_t> (frames.size()));
         ++i)
        levels.push_back (frames[static_cast<std::size_t> (i)].level);
    const auto middle = levels.begin() + static_cast<std::ptrdiff_t> (levels.size() / 2);
    std::nth_element (levels.begin(), middle, levels.end());
    return *middle;
}

/// How much the level usually changes from one frame to the next hereabouts: flicker.
float usualJump (const std::vector<FrameMeasure>& frames, std::int64_t n)
{
    std::vector<float> jumps;
    const auto last = static_cast<std::int64_t> (frames.size());
    for (auto i = std::max<std::int64_t> (1, n - 12); i < std::min (last, n + 13); ++i)
        jumps.push_back (std::abs (frames[static_cast<std::size_t> (i)].level - frames[static_cast<std::size_t> (i - 1)].level));
    const auto middle = jumps.begin() + static_cast<std::ptrdiff_t> (jumps.size() / 2);
    std::nth_element (jumps.begin(), middle, jumps.end());
    return *middle;
}

void addRuns (const std::vector<FrameMeasure>& frames, bool (*is) (const FrameMeasure&), SpanKind kind, std::vector<Span>& spans)
{
    constexpr std::int64_t bridged = 2; // a scratched frame or two does not end the dark
    const auto last = static_cast<std::int64_t> (frames.size());
    Span run{ -1, -1, kind };
    for (std::int64_t n = 0; n < last; ++n)
    {
        if (! is (frames[static_cast<std::size_t> (n)]))
            continue;
        if (run.first >= 0 && n - run.end <= bridged && run.end - run.first > 2 * bridged)
            run.end = n + 1;
        else if (run.first >= 0 && n == run.end)
            run.end = n + 1;
        else
        {
            if (run.first >= 0)
                spans.push_back (run);
            run = { n, n + 1, kind };
        }
    }
    if (run.first >= 0)
        spans.push_back (run);
}
} // namespace

std::vector<Span> lightSpans (const Measures& measures)
{
    const auto& frames = measures.frames;
    const auto last = static_cast<std::int64_t> (frames.size());
    std::vector<Span> spans;
    addRuns (frames, isBlack, SpanKind::black, spans);
    addRuns (frames, isWhite, SpanKind::white, spans);
    // One to four frames that stand out from both sides, which may differ from each other (a flash at a splice).
    for (std::int64_t n = 1; n + 1 < last;)
    {
        std::int64_t length = 0;
        for (std::int64_t tried = 1; tried <= longestFlash && n + tried < last && length == 0; ++tried)
        {
            const float before = medianLevel (frames, n - 3, n);
            const float after = medianLevel (frames, n + tried, n + tried + 3);
            float lowest = 255;
            float highest = 0;
            for (auto i = n; i < n + tried; ++i)
            {
                lowest = std::min (lowest, frames[static_cast<std::size_t> (i)].level);
                highest = std::max (highest, frames[static_cast<std::size_t> (i)].level);
            }
            const float least = std::max (leastJump, 3 * usualJump (frames, n));
            if (lowest > std::max (before, after) + least || highest < std::min (before, after) - least)
            {
                length = tried;
                spans.push_back ({ n, n + tried, lowest > before ? SpanKind::flash : SpanKind::dip });
            }
        }
        n += std::max<std::int64_t> (1, length);
    }
    for (std::int64_t n = 0; n < last; ++n)
        if (frames[static_cast<std::size_t> (n)].damaged)
        {
            if (! spans.empty() && spans.back().kind == SpanKind::damage && spans.back().end == n)
                spans.back().end = n + 1;
            else
                spans.push_back ({ n, n + 1, SpanKind::damage });
        }
    // Short black or white that is a flash or a dip already is not listed twice.
    std::erase_if (spans,
                   [&] (const Span& span)
                   {
                       return (span.kind == SpanKind::black || span.kind == SpanKind::white)
                              && std::any_of (spans.begin(), spans.end(),
                                              [&] (const Span& other) {
                                                  return (other.kind == SpanKind::flash || other.kind == SpanKind::dip)
                                                         && other.first <= span.first && other.end >= span.end;
                                              });
                   });
    std::stable_sort (spans.begin(), spans.end(), [] (const Span& a, const Span& b) { return a.first < b.first; });
    return spans;
}
} // namespace shutterbeat::scan
