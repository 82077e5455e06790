#include "music/Refit.h"

#include "music/RampLaw.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::music
{
namespace
{
using time::Rational;

/// What the span is made of, when it can be refitted.
struct Span
{
    Rational from, to; ///< positions
    Rational beat;     ///< quarter notes
    double beatSeconds = .5;
    double tempo = 120; ///< beats a minute
    int beats = 0;
    int beatsPerBar = 4;
};

Result<Span> spanOf (const TempoMap& map, const RefitWish& wish)
{
    const std::string where = "bars " + std::to_string (wish.firstBar) + " to " + std::to_string (wish.endBar);
    if (wish.endBar <= wish.firstBar || wish.endBar - wish.firstBar > 10'000)
        return usageError (where, "hold no bar to change");
    Span span;
    span.from = map.barStart (wish.firstBar);
    span.to = map.barStart (wish.endBar);
    const auto& pieces = map.pieces();
    for (std::size_t i = 0; i < pieces.size(); ++i)
    {
        const bool last = i + 1 == pieces.size();
        const bool begins = i == 0 || pieces[i].from < span.to;
        const bool ends = last || pieces[i].to > span.from;
        if (! begins || ! ends)
            continue;
        if (pieces[i].course != Course::steady || pieces[i].stretch || (i > 0 && pieces[i].from > span.from))
            return usageError (where, "the tempo is not steady between them; fit the bars there anew");
    }
    const auto& meter = map.meterOf (wish.firstBar);
    const auto beats = beatLengths (meter);
    if (std::any_of (beats.begin(), beats.end(), [&] (const Rational& b) { return b != beats.front(); }))
        return usageError (where, "their beats are of unequal length; change them by hand");
    span.beat = beats.front();
    span.beatsPerBar = static_cast<int> (beats.size());
    span.beats = static_cast<int> (time::floorOf ((span.to - span.from) / span.beat));
    const auto quarters = map.tempoAt (span.from);
    span.tempo = time::toDouble (quarters / span.beat);
    span.beatSeconds = 60 / span.tempo;
    return span;
}

/// The cheapest nudge that makes `seconds` more or less; nothing when the span is too short for it.
struct Nudge
{
    double part = 0, cost = 0;
    int beats = 0;
};

std::optional<Nudge> cheapestNudge (const RefitWish& wish, const Span& span, int beats, double seconds)
{
    if (std::abs (seconds) < 1e-9)
        return Nudge{};
    std::optional<Nudge> best;
    for (int n = 1; n <= beats; ++n)
    {
        const double flat = n * span.beatSeconds;
        if (flat + seconds <= 0)
            continue;
        const double factor = flat / (flat + seconds);
        if (factor > 1 + wish.mostNudge || factor < 1 - wish.mostNudge)
            continue;
        const double tempo = span.tempo * factor;
        // It jumps there and back, and is away from the written tempo meanwhile.
        const double cost =
            2 * stepCost (wish.costs, span.tempo, tempo) + deviationCost (wish.costs, tempo, span.tempo) * (flat + seconds) / 10;
        if (! best || cost < best->cost - 1e-12)
            best = Nudge{ factor - 1, cost, n };
    }
    return best;
}

Meter meterWith (const Meter& meter, const Rational& beat, int beats)
{
    auto changed = meterOfLength (beat * Rational (beats));
    // 6/8 with a beat less is 3/8, not 3/8 in another name: keep the unit that was written.
    const auto count = beat * Rational (beats) * Rational (meter.unit, 4);
    if (count.isWhole() && count <= Rational (64))
        return { static_cast<int> (time::floorOf (count)), meter.unit, {} };
    return changed ? *changed : meter;
}
} // namespace

Result<std::vector<RefitWay>> refitWays (const TempoMap& map, const RefitWish& wish)
{
    const auto span = spanOf (map, wish);
    if (! span)
        return span.error();
    const double change = time::toDouble (wish.change), frame = time::toDouble (wish.frame);
    const auto near = static_cast<int> (std::lround (change / span->beatSeconds));
    const int perBar = span->beatsPerBar;
    std::vector<RefitWay> ways;
    for (int beats = near - perBar; beats <= near + perBar; ++beats)
        for (const int inBar : { 0, -1, -2, 1 })
        {
            if ((beats - inBar) % perBar != 0 || perBar + inBar < 1)
                continue;
            RefitWay way;
            way.beats = beats;
            way.beatsInBar = inBar;
            way.barsIn = (beats - inBar) / perBar;
            if (span->beats + beats < perBar)
                continue;
            way.barCost = std::abs (way.barsIn) * wish.costs.barInOut
                          + (inBar == -1   ? wish.costs.shorter
                             : inBar == -2 ? wish.costs.shorter2
                             : inBar == 1  ? wish.costs.longer
                                           : 0)
                          + (inBar == 0 ? 0 : 2 * wish.costs.meterChange);
            for (int left = -wish.landingFrames; left <= wish.landingFrames; ++left)
            {
                // The music has to last as long as the picture now does, and strike `left` frames after it.
                const double seconds = change + left * frame - beats * span->beatSeconds;
                const auto nudge = cheapestNudge (wish, *span, span->beats + beats, seconds);
                if (! nudge)
                    continue;
                way.leftFrames = left;
                way.nudge = nudge->part;
                way.nudgeBeats = nudge->beats;
                way.nudgeCost = nudge->cost;
                way.landingCost =
                    left == 0 ? 0 : wish.costs.landing * (left * 1.0 / wish.landingFrames) * (left * 1.0 / wish.landingFrames);
                way.bars.clear();
                if (inBar != 0 || way.barsIn != 0)
                    for (auto bar = wish.firstBar; bar < wish.endBar && bar - wish.firstBar < 1000; ++bar)
                        if (way.barsIn >= 0 || bar - way.barsIn <= wish.endBar)
                            way.bars.push_back (bar);
                ways.push_back (way);
            }
        }
    std::sort (ways.begin(), ways.end(),
               [] (const RefitWay& a, const RefitWay& b)
               {
                   if (std::abs (a.cost() - b.cost()) > 1e-12)
                       return a.cost() < b.cost();
                   return std::abs (a.leftFrames) < std::abs (b.leftFrames);
               });
    if (ways.size() > wish.most)
        ways.resize (wish.most);
    return ways;
}

std::string wayText (const RefitWay& way, const TempoMap& map)
{
    std::vector<std::string> parts;
    const auto count = [] (std::int64_t n, const char* what) { return std::to_string (n) + " " + what + (n == 1 ? "" : "s"); };
    const auto number = [] (double x, int decimals) { return time::decimalText (nearestPart (std::abs (x), 1'000'000), decimals); };
    if (way.barsIn != 0)
        parts.push_back (count (std::abs (way.barsIn), "bar") + (way.barsIn > 0 ? " put in" : " taken out"));
    if (way.beatsInBar != 0)
    {
        const auto& meter = map.meterOf (way.bars.empty() ? 1 : way.bars.front());
        const auto beats = beatLengths (meter);
        parts.push_back ("one bar from " + meterText (meter) + " to "
                         + meterText (meterWith (meter, beats.front(), static_cast<int> (beats.size()) + way.beatsInBar)));
    }
    if (! way.bars.empty())
        parts.back() += way.bars.size() == 1
                            ? " at bar " + std::to_string (way.bars.front())
                            : " at any of bars " + std::to_string (way.bars.front()) + " to " + std::to_string (way.bars.back());
    if (way.nudgeBeats > 0)
        parts.push_back ("tempo " + number (way.nudge * 100, 2) + " % " + (way.nudge > 0 ? "faster" : "slower") + " over "
                         + count (way.nudgeBeats, "beat"));
    if (parts.empty())
        parts.push_back ("nothing changes");
    if (way.leftFrames != 0)
        parts.push_back ("strikes " + count (std::abs (way.leftFrames), "frame") + (way.leftFrames > 0 ? " late" : " early"));
    std::string text;
    for (const auto& part : parts)
        text += (text.empty() ? "" : "; ") + part;
    return text;
}

Result<TempoMap> refitted (const TempoMap& map, const RefitWish& wish, const RefitWay& way)
{
    const auto span = spanOf (map, wish);
    if (! span)
        return span.error();
    TempoPlan plan = map.plan();
    const auto shift = span->beat * Rational (way.beats);
    if (! way.bars.empty())
    {
        const auto bar = way.bars.front();
        const auto usual = map.meterOf (bar);
        std::vector<MeterChange> meters;
        // Bar by bar is simplest where bars come and go; equal ones fall together again below.
        const auto add = [&] (std::int64_t at, const Meter& meter)
        {
            if (meters.empty() || ! (meters.back().meter == meter))
                meters.push_back ({ at, meter });
        };
        std::int64_t written = 1;
        const std::int64_t taken = way.barsIn < 0 ? -way.barsIn : 0;
        const auto lastBar = std::max (plan.meters.back().bar, wish.endBar) + 1;
        for (std::int64_t old = 1; old <= lastBar; ++old)
        {
            if (old == bar)
                for (int n = 0; n < way.barsIn; ++n)
                    add (written++, usual);
            const bool gone = old >= bar && old < bar + taken;
            if (gone)
                continue;
            const bool changed = way.beatsInBar != 0 && old == bar + taken;
            add (written++, changed ? meterWith (usual, span->beat, static_cast<int> (beatLengths (usual).size()) + way.beatsInBar)
                                    : map.meterOf (old));
        }
        plan.meters = meters;
        for (auto& key : plan.keys)
            if (key.bar > bar)
                key.bar += way.barsIn;
    }
    for (auto& change : plan.tempos)
        if (change.at >= span->to)
            change.at += shift;
    for (auto& stretch : plan.stretches)
        if (stretch.from >= span->to)
        {
            stretch.from += shift;
            stretch.to += shift;
        }
    if (way.nudgeBeats > 0)
    {
        const auto end = span->to + shift, start = end - span->beat * Rational (way.nudgeBeats);
        auto here = std::find_if (plan.tempos.rbegin(), plan.tempos.rend(), [&] (const TempoChange& c) { return c.at <= start; });
        const auto before = here == plan.tempos.rend() ? plan.tempos.front() : *here;
        // Exact: the beats over the time they have now.
        const auto flat = Rational (60) * span->beat * Rational (way.nudgeBeats) / map.tempoAt (span->from);
        const auto seconds =
            flat + wish.change + Rational (way.leftFrames) * wish.frame - Rational (60) * shift / map.tempoAt (span->from);
        TempoChange nudged = before;
        nudged.at = start;
        nudged.beatsPerMinute = Rational (60) * (span->beat * Rational (way.nudgeBeats) / (before.unit * Rational (4))) / seconds;
        if (nudged.beatsPerMinute.denominator() > 1'000'000'000)
            nudged.beatsPerMinute = nearestPart (toLongDouble (nudged.beatsPerMinute), 1'000'000'000);
        std::erase_if (plan.tempos, [&] (const TempoChange& c) { return c.at == start; });
        plan.tempos.push_back (nudged);
        if (std::none_of (plan.tempos.begin(), plan.tempos.end(), [&] (const TempoChange& c) { return c.at == end; }))
        {
            TempoChange after = before;
            after.at = end;
            plan.tempos.push_back (after);
        }
        std::sort (plan.tempos.begin(), plan.tempos.end(), [] (const TempoChange& a, const TempoChange& b) { return a.at < b.at; });
    }
    return TempoMap::of (std::move (plan));
}
} // namespace shutterbeat::music
