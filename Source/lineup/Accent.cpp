#include "lineup/Accent.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::lineup
{
std::optional<Accent> accentNear (const std::vector<Onset>& onsets, double seconds, const AccentLook& look)
{
    std::vector<float> strengths;
    for (const auto& onset : onsets)
        strengths.push_back (onset.strength);
    const float least = std::max (look.least, look.share * percentile (std::move (strengths), 0.8));
    std::optional<Accent> nearest;
    double second = 1e9;
    for (const auto& onset : onsets)
    {
        const double off = std::abs (onset.seconds - seconds);
        if (off > look.reach || ! onset.pinned || onset.strength < least)
            continue;
        const double before = nearest ? std::abs (nearest->seconds - seconds) : 1e9;
        if (off < before)
        {
            second = std::min (second, before);
            nearest = Accent{ onset.seconds, onset.strength, true };
        }
        else
            second = std::min (second, off);
    }
    // Two accents, one as early as the other is late: which of them was meant can't be told.
    if (nearest)
        nearest->alone = second > std::abs (nearest->seconds - seconds) + 0.040;
    return nearest;
}
} // namespace shutterbeat::lineup
