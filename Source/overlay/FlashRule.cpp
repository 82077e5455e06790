#include "overlay/FlashRule.h"

#include <algorithm>

namespace shutterbeat::overlay
{
namespace
{
/// Overlapping flashes become one that covers what they cover together, at worst.
std::vector<Flash> merged (std::vector<Flash> flashes)
{
    std::sort (flashes.begin(), flashes.end(), [] (const Flash& a, const Flash& b) { return a.first < b.first; });
    std::vector<Flash> joined;
    for (const auto& flash : flashes)
        if (! joined.empty() && flash.first < joined.back().end)
        {
            joined.back().end = std::max (joined.back().end, flash.end);
            joined.back().area += flash.area;
        }
        else
            joined.push_back (flash);
    return joined;
}
} // namespace

std::vector<FlashBreach> flashBreaches (std::vector<Flash> flashes, const time::Rational& rate)
{
    auto large = merged (std::move (flashes));
    std::erase_if (large, [] (const Flash& flash) { return flash.area <= time::Rational (1, 4); });
    const auto seconds = [&] (std::size_t from, std::size_t to)
    { return time::Rational (large[to].first - large[from].first) / rate; };
    std::vector<FlashBreach> breaches;
    for (std::size_t i = 1; i < large.size(); ++i)
    {
        if (const auto apart = seconds (i - 1, i); apart < time::Rational (9, 25))
            breaches.push_back ({ large[i].first, "begins " + time::decimalText (apart * time::Rational (1000), 0)
                                                      + " ms after the flash before it; 360 ms are needed" });
        if (i >= 3 && seconds (i - 3, i) < time::Rational (1))
            breaches.push_back ({ large[i].first, "is the fourth flash within one second; three are allowed" });
    }
    return breaches;
}
} // namespace shutterbeat::overlay
