#include "music/BarFit.h"

#include "music/BarSearch.h"

#include <algorithm>

namespace shutterbeat::music
{
Result<BarAnswer> fitBars (const std::vector<BarTarget>& targets, const BarWish& wish)
{
    const auto between = [] (double x, double least, double most) { return x >= least && x <= most; };
    const double preferred = wish.preferred.valid() ? time::toDouble (wish.preferred) : 0;
    if (! between (preferred, 10, 600))
        return usageError ("preferred tempo", "lies from 10 to 600 beats a minute");
    if (! between (wish.band, 0, .9))
        return usageError ("tempo band", "is a part of the preferred tempo, from 0 to 0.9");
    if (! between (wish.landingFrames, 0, 12))
        return usageError ("landing", "musts may be missed by 0 to 12 frames");
    if (wish.rampGrid != 0 && ! between (wish.rampGrid, .05, 50))
        return usageError ("ramp grid", "is 0 for no ramps, or from 0.05 to 50 beats a minute");
    if (! between (wish.beatsPerBar, 1, 16) || ! wish.unit.valid() || wish.unit < time::Rational (1, 64)
        || wish.unit > time::Rational (1) || wish.unit.numerator() * (wish.beatsPerBar + 1) > 64)
        return usageError ("meter", "has 1 to 16 beats of a note value up to a whole note");
    if (! wish.frame.valid() || wish.frame.sign() <= 0)
        return usageError ("frame", "lasts longer than nothing");
    const auto musts = std::count_if (targets.begin(), targets.end(), [] (const BarTarget& t) { return t.must; });
    if (musts < 2)
        return usageError ("bars", "need two musts at least, to lie between; mark hits as must or fit one tempo");
    const BarTarget* before = nullptr;
    for (std::size_t i = 0; i < targets.size(); ++i)
    {
        const auto& target = targets[i];
        const std::string where = "hit " + std::to_string (i + 1);
        if (! target.seconds.valid() || target.seconds < time::Rational (-1'000'000) || target.seconds > time::Rational (1'000'000))
            return usageError (where, "is not at a time");
        if (! between (target.weight, 0, 1e6) || ! between (target.early, 0, 1000) || ! between (target.late, 0, 1000))
            return usageError (where, "has a weight or limits that make no sense");
        if (i > 0 && target.seconds < targets[i - 1].seconds)
            return usageError (where, "comes before the one before it; hits have to be in order");
        if (target.must && before != nullptr && target.seconds <= before->seconds)
            return usageError (where, "is a must at the moment of another must; make one of them a should");
        if (target.must)
            before = &target;
    }
    return BarSearch (targets, wish).run();
}
} // namespace shutterbeat::music
