#include "scan/Changes.h"

#include <algorithm>

namespace shutterbeat::scan
{
std::vector<FoundJoin> joinsOf (const Measures& measures, const std::vector<Span>& light)
{
    constexpr std::ptrdiff_t reach = 10; // distinct pictures each way
    constexpr float leastRatio = 1.7F;   // of what is usual, to be listed at all
    constexpr float still = 0.5F;        // grey levels: less movement than that is none
    std::vector<std::int64_t> distinct;
    for (std::size_t n = 0; n < measures.frames.size(); ++n)
        if (! measures.frames[n].repeat)
            distinct.push_back (static_cast<std::int64_t> (n));
    const auto count = static_cast<std::ptrdiff_t> (distinct.size());
    const auto difference = [&] (std::ptrdiff_t k)
    { return measures.frames[static_cast<std::size_t> (distinct[static_cast<std::size_t> (k)])].difference; };
    std::vector<FoundJoin> joins;
    std::size_t atLight = 0;
    std::vector<float> near;
    for (std::ptrdiff_t k = 2; k + 1 < count; ++k)
    {
        // A disturbed picture differs from both its neighbours, a join makes one step only.
        const float here = difference (k);
        const float beside = std::max ({ difference (k - 1), difference (k + 1), still });
        if (here < leastRatio * beside)
            continue;
        near.clear();
        for (std::ptrdiff_t i = std::max<std::ptrdiff_t> (1, k - reach); i < std::min (count, k + reach + 1); ++i)
            if (i != k)
                near.push_back (difference (i));
        const auto middle = near.begin() + static_cast<std::ptrdiff_t> (near.size() / 2);
        std::nth_element (near.begin(), middle, near.end());
        const float ratio = here / std::max (beside, *middle);
        const std::int64_t frame = distinct[static_cast<std::size_t> (k)];
        while (atLight < light.size() && light[atLight].end < frame - 1)
            ++atLight;
        const bool disturbed = atLight < light.size() && light[atLight].first <= frame + 1;
        if (ratio >= leastRatio && ! disturbed)
            joins.push_back ({ frame, 1.0 - 1.0 / static_cast<double> (ratio) });
    }
    return joins;
}
} // namespace shutterbeat::scan
