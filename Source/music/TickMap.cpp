#include "music/TickMap.h"

#include <algorithm>

namespace shutterbeat::music
{
Result<TickMap> TickMap::of (std::vector<TempoFrom> wanted, int ticksPerQuarter)
{
    if (ticksPerQuarter < 1 || ticksPerQuarter > 0x7FFF)
        return usageError ("ticks a quarter " + std::to_string (ticksPerQuarter), "have to be 1 to 32767");
    std::stable_sort (wanted.begin(), wanted.end(), [] (const TempoFrom& a, const TempoFrom& b) { return a.seconds < b.seconds; });
    TickMap map;
    map.resolution = ticksPerQuarter;
    map.theSteps.push_back ({ 0, 0, {} });
    for (const auto& next : wanted)
    {
        // Placed through the steps before it, so from where they really are.
        const auto tick = map.tickAt (next.seconds);
        if (tick == map.theSteps.back().tick)
            map.theSteps.back().tempo = next.tempo;
        else
            map.theSteps.push_back ({ tick, map.secondsAt (tick), next.tempo });
    }
    return map;
}

TickMap TickMap::onTicks (const std::vector<std::pair<std::int64_t, WrittenTempo>>& tempos, int ticksPerQuarter)
{
    TickMap map;
    map.resolution = ticksPerQuarter;
    for (const auto& [tick, tempo] : tempos)
        map.theSteps.push_back ({ tick, map.theSteps.empty() ? time::Rational (0) : map.secondsAt (tick), tempo });
    return map;
}

time::Rational TickMap::tickLength (const Step& step) const
{
    return step.tempo.secondsPerQuarter() / time::Rational (resolution);
}

std::int64_t TickMap::tickAt (const time::Rational& seconds) const
{
    if (seconds.sign() <= 0)
        return 0;
    auto after = std::upper_bound (theSteps.begin(), theSteps.end(), seconds,
                                   [] (const time::Rational& moment, const Step& step) { return moment < step.seconds; });
    const auto& step = *std::prev (after);
    const auto tick = step.tick + time::roundOf ((seconds - step.seconds) / tickLength (step));
    // Rounding up may reach the next step, never pass it.
    return after == theSteps.end() ? tick : std::min (tick, after->tick);
}

time::Rational TickMap::secondsAt (std::int64_t tick) const
{
    const auto after = std::upper_bound (theSteps.begin(), theSteps.end(), tick,
                                         [] (std::int64_t asked, const Step& step) { return asked < step.tick; });
    const auto& step = after == theSteps.begin() ? *after : *std::prev (after);
    return step.seconds + time::Rational (tick - step.tick) * tickLength (step);
}
} // namespace shutterbeat::music
