#include "scan/FlashTitles.h"

#include <algorithm>

namespace shutterbeat::scan
{
namespace
{
constexpr std::int64_t longestTitle = 8; // file frames: four film frames, each shown twice
constexpr float sure = 0.9F;        // one picture of it at least
constexpr float likely = 0.7F;      // and all of them
constexpr float noCard = 0.5F;      // what lies before and after
constexpr float titleJump = 5;      // grey levels from picture to picture
constexpr float titleContrast = 8;  // grain alone has less once the picture is reduced

/// How much pictures usually differ hereabouts, the edges themselves left out.
float usualDifference (const std::vector<FrameMeasure>& frames, std::int64_t first, std::int64_t end)
{
    constexpr std::int64_t reach = 12;
    std::vector<float> differences;
    const auto last = static_cast<std::int64_t> (frames.size());
    for (auto n = std::max<std::int64_t> (1, first - reach); n < std::min (last, end + reach + 1); ++n)
        if ((n < first || n > end) && ! frames[static_cast<std::size_t> (n)].repeat)
            differences.push_back (frames[static_cast<std::size_t> (n)].difference);
    if (differences.empty())
        return 0;
    const auto middle = differences.begin() + static_cast<std::ptrdiff_t> (differences.size() / 2);
    std::nth_element (differences.begin(), middle, differences.end());
    return *middle;
}
} // namespace

std::vector<Span> flashTitles (const Measures& measures)
{
    const auto& frames = measures.frames;
    const auto& cards = measures.cards;
    const auto last = static_cast<std::int64_t> (frames.size());
    std::vector<Span> found;
    for (std::size_t i = 0; i < cards.size();)
    {
        // Pictures in a row that were looked at and are likely cards.
        std::size_t k = i;
        float best = 0;
        while (k < cards.size() && cards[k].likelihood >= likely && (k == i || cards[k].frame == cards[k - 1].frame + 1)
               && frames[static_cast<std::size_t> (cards[k].frame)].contrast >= titleContrast)
            best = std::max (best, cards[k++].likelihood);
        if (k == i)
        {
            ++i;
            continue;
        }
        const auto first = cards[i].frame;
        const auto end = cards[k - 1].frame + 1;
        const bool apartBefore = i > 0 && cards[i - 1].likelihood < noCard && first - cards[i - 1].frame <= longestTitle;
        const bool apartAfter = k < cards.size() && cards[k].frame == end && cards[k].likelihood < noCard;
        if (best >= sure && end - first <= longestTitle && first > 0 && end < last && apartBefore && apartAfter)
        {
            const float least = std::max (titleJump, 3 * usualDifference (frames, first, end));
            if (frames[static_cast<std::size_t> (first)].difference > least
                && frames[static_cast<std::size_t> (end)].difference > least)
                found.push_back ({ first, end, SpanKind::damage, best });
        }
        i = k;
    }
    return found;
}
} // namespace shutterbeat::scan
