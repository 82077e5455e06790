#include "film/GreyLevels.h"

#include <algorithm>

namespace shutterbeat::film
{
std::array<int, 256> levelCounts (const std::vector<std::uint8_t>& pixels)
{
    std::array<std::array<int, 256>, 2> counts{}; // two, so that runs of one level do not wait for each other
    std::size_t i = 0;
    for (; i + 1 < pixels.size(); i += 2)
    {
        ++counts[0][pixels[i]];
        ++counts[1][pixels[i + 1]];
    }
    if (i < pixels.size())
        ++counts[0][pixels[i]];
    for (std::size_t level = 0; level < 256; ++level)
        counts[0][level] += counts[1][level];
    return counts[0];
}

int groundLevel (const std::array<int, 256>& counts)
{
    int best = 0;
    int most = -1;
    for (int level = 0; level < 256; ++level)
    {
        int near = 0;
        for (int i = std::max (0, level - 4); i <= std::min (255, level + 4); ++i)
            near += counts[static_cast<std::size_t> (i)];
        if (near > most)
        {
            most = near;
            best = level;
        }
    }
    return best;
}

int levelAt (const std::array<int, 256>& counts, double share)
{
    int total = 0;
    for (const int count : counts)
        total += count;
    int below = 0;
    for (int level = 0; level < 256; ++level)
    {
        below += counts[static_cast<std::size_t> (level)];
        if (below >= share * total)
            return level;
    }
    return 255;
}
} // namespace shutterbeat::film
