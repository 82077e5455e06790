#include "lineup/RateMistakes.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::lineup
{
namespace
{
using time::Rational;

struct Speed
{
    Rational perSecond;
    const char* name;
};

bool usable (const Rational& ratio)
{
    return ratio != Rational (1) && ratio > Rational (74, 100) && ratio < Rational (136, 100);
}

void add (std::vector<RateMistake>& all, const Rational& ratio, const std::string& words, bool sampleRate = false)
{
    if (! usable (ratio))
        return;
    const auto same = std::find_if (all.begin(), all.end(),
                                    [&] (const RateMistake& m) { return m.ratio == ratio && m.sampleRate == sampleRate; });
    if (same == all.end())
        all.push_back ({ ratio, words, sampleRate });
    else if (same->words.size() < 150)
        same->words += "; or " + words;
}

std::vector<RateMistake> allOfThem()
{
    std::vector<RateMistake> all;
    const std::vector<Speed> finals{ { Rational (24000, 1001), "23.976" }, { Rational (24), "24" }, { Rational (25), "25" } };
    for (const auto& made : finals)
        for (const auto& seen : finals)
            add (all, seen.perSecond / made.perSecond,
                 std::string ("made for a picture at ") + made.name + " frames a second, heard against one at " + seen.name);
    add (all, Rational (1001, 1000), "made for 29.97 frames a second, heard against 30");
    add (all, Rational (1000, 1001), "made for 30 frames a second, heard against 29.97");
    const std::vector<Speed> speeds{ { Rational (16), "16" }, { Rational (18), "18" },         { Rational (200, 11), "18.18" },
                                     { Rational (20), "20" }, { Rational (240, 11), "21.82" }, { Rational (22), "22" },
                                     { Rational (24), "24" } };
    for (const auto& made : speeds)
        for (const auto& seen : speeds)
            add (all, seen.perSecond / made.perSecond,
                 std::string ("made for film run at ") + made.name + " film frames a second, heard against " + seen.name);
    const std::vector<Speed> samples{ { Rational (44100), "44100" }, { Rational (48000), "48000" } };
    for (const auto& made : samples)
        for (const auto& played : samples)
            add (all, made.perSecond / played.perSecond,
                 std::string ("recorded at ") + made.name + " samples a second, played as if it were " + played.name, true);
    std::sort (all.begin(), all.end(), [] (const RateMistake& a, const RateMistake& b) { return a.ratio < b.ratio; });
    return all;
}
} // namespace

const std::vector<RateMistake>& rateMistakes()
{
    static const auto all = allOfThem();
    return all;
}

std::vector<RateMistake> mistakesNear (double ratio, double reach)
{
    std::vector<RateMistake> near;
    for (const auto& mistake : rateMistakes())
        if (std::abs (time::toDouble (mistake.ratio) - ratio) <= reach)
            near.push_back (mistake);
    std::stable_sort (near.begin(), near.end(),
                      [&] (const RateMistake& a, const RateMistake& b)
                      { return std::abs (time::toDouble (a.ratio) - ratio) < std::abs (time::toDouble (b.ratio) - ratio); });
    return near;
}
} // namespace shutterbeat::lineup
