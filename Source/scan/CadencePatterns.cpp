#include "scan/CadencePatterns.h"

#include <algorithm>

namespace shutterbeat::scan
{
namespace
{
CadencePattern patternOf (const time::Rational& share, double handicap)
{
    CadencePattern pattern;
    pattern.share = share;
    pattern.handicap = handicap;
    const auto films = static_cast<std::int64_t> (share.numerator());
    const auto files = static_cast<std::int64_t> (share.denominator());
    // Film frame i first appears at ceil (i * files / films): handbook 3.2, rule A.
    const auto start = [&] (std::int64_t i) { return (i * files + films - 1) / films; };
    pattern.isNew.assign (static_cast<std::size_t> (files), false);
    for (std::int64_t i = 0; i < films; ++i)
    {
        pattern.cycle.push_back (static_cast<int> (start (i + 1) - start (i)));
        pattern.isNew[static_cast<std::size_t> (start (i))] = true;
    }
    return pattern;
}
} // namespace

std::vector<CadencePattern> cadencePatterns (const std::optional<time::Rational>& fileRate)
{
    constexpr double unusual = 6;
    std::vector<std::int64_t> rates;
    if (fileRate)
        rates.push_back (time::roundOf (*fileRate)); // 29.97 is 30 slowed: the cadence is the same
    else
        rates = { 24, 25, 30, 50, 60 };
    std::vector<CadencePattern> patterns;
    const auto take = [&] (const time::Rational& share, double handicap)
    {
        if (share >= time::Rational (1) || share <= time::Rational (0))
            return;
        const auto same =
            std::find_if (patterns.begin(), patterns.end(), [&] (const CadencePattern& p) { return p.share == share; });
        if (same == patterns.end())
            patterns.push_back (patternOf (share, handicap));
        else
            same->handicap = std::min (same->handicap, handicap);
    };
    for (const std::int64_t rate : rates)
    {
        if (rate < 2 || rate > 240)
            continue;
        for (const int speed : { 16, 18, 20, 22, 24 })
            take (time::Rational (speed, rate), 0);
        take (time::Rational (200, 11 * rate), 0);
        take (time::Rational (240, 11 * rate), 0);
        take (time::Rational (1, 2), unusual);
        for (const int speed : { 12, 14, 15, 17, 19, 21, 23, 25, 30 })
            take (time::Rational (speed, rate), unusual);
    }
    return patterns;
}

std::string cycleText (const std::vector<int>& cycle)
{
    std::string text;
    for (std::size_t i = 0; i < cycle.size();)
    {
        std::size_t run = 1;
        while (i + run < cycle.size() && cycle[i + run] == cycle[i])
            ++run;
        if (! text.empty())
            text += ':';
        text += std::to_string (cycle[i]);
        if (run > 3)
            text += "x" + std::to_string (run);
        else
            for (std::size_t k = 1; k < run; ++k)
                text += ":" + std::to_string (cycle[i]);
        i += run;
    }
    return text;
}
} // namespace shutterbeat::scan
