#include "music/BarSearch.h"

#include "music/RampLaw.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::music
{
namespace
{
constexpr double infinite = std::numeric_limits<double>::infinity();
/// Rounding must not shut out a tempo at the very edge of the band.
constexpr double edge = 1e-9;

RampLaw rampOf (const BarStretch& stretch)
{
    return { stretch.entry, stretch.exit, stretch.beats - stretch.steadyBeats, Course::rampInTime };
}
} // namespace

double beatSeconds (const BarStretch& stretch, double beat)
{
    if (! stretch.ramp || beat <= stretch.steadyBeats)
        return 60 * beat / stretch.entry;
    return 60 * stretch.steadyBeats / stretch.entry + static_cast<double> (rampOf (stretch).secondsAt (beat - stretch.steadyBeats));
}

double beatAt (const BarStretch& stretch, double moment)
{
    const double steady = 60 * stretch.steadyBeats / stretch.entry;
    if (! stretch.ramp || moment <= steady)
        return moment * stretch.entry / 60;
    return stretch.steadyBeats + static_cast<double> (rampOf (stretch).quartersAt (moment - steady));
}

BarSearch::BarSearch (const std::vector<BarTarget>& targets, const BarWish& wish)
    : hits (targets)
    , wanted (wish)
    , preferred (time::toDouble (wish.preferred))
    , low (preferred * (1 - wish.band))
    , high (preferred * (1 + wish.band))
    , frame (time::toDouble (wish.frame))
{
    double longest = 0, last = 0;
    for (std::size_t i = 0; i < hits.size(); ++i)
    {
        seconds.push_back (time::toDouble (hits[i].seconds));
        if (! hits[i].must)
            continue;
        Must must{ i, {} };
        for (int frames = -wish.landingFrames; frames <= wish.landingFrames; ++frames)
        {
            const double late = frames * frame;
            if (late >= -hits[i].early - edge && late <= hits[i].late + edge)
                must.landings.push_back (
                    { frames, seconds[i] + late, landingCost (wish.costs, late, hits[i].early, hits[i].late), {}, {} });
        }
        if (! musts.empty())
            longest = std::max (longest, seconds[i] - last + 2 * wish.landingFrames * frame);
        last = seconds[i];
        musts.push_back (std::move (must));
    }
    if (wish.rampGrid > 0)
        for (double k = std::ceil (low / wish.rampGrid - edge); k * wish.rampGrid <= high + edge; ++k)
            grid.push_back (k * wish.rampGrid);
    fills = cheapestBars (wish.costs, wish.beatsPerBar, static_cast<int> (longest * high / 60) + 2);
}

/// What the hits between two musts cost with these beats; no more than `most` is worked out.
double BarSearch::misses (const Must& from, const Must& to, const Landing& start, const BarStretch& stretch, double most) const
{
    double cost = 0;
    for (std::size_t i = from.target + 1; i < to.target && cost < most; ++i)
    {
        const double moment = seconds[i] - start.seconds;
        const double beat = std::clamp (std::floor (beatAt (stretch, moment)), 0.0, static_cast<double> (stretch.beats));
        double least = infinite;
        for (const double near : { beat, std::min (beat + 1, static_cast<double> (stretch.beats)) })
            least = std::min (
                least, missCost (wanted.costs, beatSeconds (stretch, near) - moment, hits[i].weight, hits[i].early, hits[i].late));
        cost += least;
    }
    return cost;
}

void BarSearch::addSteady (const Must& from, const Landing& start, std::size_t firstIndex, Must& to, Landing& end)
{
    const double duration = end.seconds - start.seconds;
    for (int beats = std::max (1, static_cast<int> (std::ceil (duration * low / 60 - edge))); beats <= duration * high / 60 + edge;
         ++beats)
    {
        const auto& fill = fills[static_cast<std::size_t> (beats)];
        if (fill.bars.empty())
            continue;
        State state;
        auto& stretch = state.stretch;
        stretch = { from.target,
                    to.target,
                    beats,
                    {},
                    60 * beats / duration,
                    60 * beats / duration,
                    static_cast<double> (beats),
                    false,
                    end.frames,
                    0,
                    0,
                    fill.cost,
                    end.cost,
                    0 };
        state.tempo = stretch.entry;
        stretch.deviationCost = deviationCost (wanted.costs, stretch.entry, preferred) * duration / 10;
        state.cost = infinite;
        for (std::size_t p = 0; p < start.states.size(); ++p)
        {
            const auto& before = start.states[p];
            const double step = before.tempo == 0 ? 0 : stepCost (wanted.costs, before.tempo, stretch.entry);
            if (before.cost + step < state.cost)
            {
                state.cost = before.cost + step;
                state.before = firstIndex + p;
                stretch.tempoCost = step;
            }
        }
        if (state.cost == infinite)
            continue;
        stretch.missCost = misses (from, to, start, stretch, infinite);
        state.cost += stretch.cost() - stretch.tempoCost;
        end.states.push_back (std::move (state));
    }
}

void BarSearch::addRamps (const Must& from, const Landing& start, std::size_t firstIndex, Must& to, Landing& end)
{
    const double duration = end.seconds - start.seconds;
    for (std::size_t p = 0; p < start.states.size(); ++p)
    {
        const auto& before = start.states[p];
        if (before.tempo == 0)
            continue;
        const double entry = before.tempo;
        const double entryDeviation = deviationCost (wanted.costs, entry, preferred);
        for (std::size_t g = 0; g < grid.size(); ++g)
        {
            const double exit = grid[g];
            if (std::abs (exit - entry) < 1e-9)
                continue;
            // All ramp, or a ramp over the last beat only: what lies between can be met.
            const double all = duration * (entry + exit) / 120, lastBeat = 1 + (duration - 120 / (entry + exit)) * entry / 60;
            const double top = std::max (all, lastBeat) + edge;
            for (int beats = std::max (1, static_cast<int> (std::ceil (std::min (all, lastBeat) - edge))); beats <= top; ++beats)
            {
                if (static_cast<std::size_t> (beats) >= fills.size() || fills[static_cast<std::size_t> (beats)].bars.empty())
                    continue;
                double steady = (duration - 120 * beats / (entry + exit)) / (60 / entry - 120 / (entry + exit));
                if (steady < -edge || steady > beats - 1 + edge)
                    continue;
                steady = std::clamp (steady, 0.0, static_cast<double> (beats - 1));
                auto& known = end.onGrid[g];
                const double best = known == none ? infinite : end.states[known].cost;
                BarStretch stretch{ from.target, to.target, beats,      {}, entry, exit,
                                    steady,      true,      end.frames, 0,  0,     fills[static_cast<std::size_t> (beats)].cost,
                                    end.cost,    0 };
                const double flat = 60 * steady / entry;
                stretch.deviationCost = (entryDeviation * flat
                                         + (entryDeviation + deviationCost (wanted.costs, exit, preferred)) / 2 * (duration - flat))
                                        / 10;
                stretch.tempoCost = rampCost (wanted.costs, entry, exit, beats - steady);
                if (before.cost + stretch.cost() >= best)
                    continue;
                stretch.missCost = misses (from, to, start, stretch, best - before.cost - stretch.cost());
                const double cost = before.cost + stretch.cost();
                if (cost >= best)
                    continue;
                if (known == none)
                {
                    known = end.states.size();
                    end.states.emplace_back();
                }
                end.states[known] = { exit, cost, firstIndex + p, std::move (stretch) };
            }
        }
    }
}

/// The hits after the last must are met at the last tempo.
double BarSearch::tailCost (const Must& last, const Landing& end, double tempo) const
{
    double cost = 0;
    for (std::size_t i = last.target + 1; i < hits.size(); ++i)
    {
        const double beat = (seconds[i] - end.seconds) * tempo / 60;
        double least = infinite;
        for (const double near : { std::floor (beat), std::ceil (beat) })
            least =
                std::min (least, missCost (wanted.costs, (near - beat) * 60 / tempo, hits[i].weight, hits[i].early, hits[i].late));
        cost += least;
    }
    return cost;
}

BarObstacle BarSearch::obstacleAt (const Must& from, const Must& to) const
{
    const double apart = seconds[to.target] - seconds[from.target];
    const auto text = [] (double x) { return time::decimalText (nearestPart (x, 1000), 2); };
    return { from.target, to.target,
             "they lie " + text (apart) + " s apart, " + text (apart * low / 60) + " to " + text (apart * high / 60) + " beats at "
                 + text (low) + " to " + text (high) + ": no bars of that length; widen the band or the limits" };
}

BarAnswer BarSearch::run()
{
    for (auto& landing : musts.front().landings)
    {
        landing.states.push_back ({ 0, landing.cost, none, {} });
        // A ramp may begin the music: from any grid tempo.
        for (const double tempo : grid)
            landing.states.push_back ({ tempo, landing.cost, none, {} });
    }
    for (std::size_t m = 0; m + 1 < musts.size(); ++m)
    {
        bool any = false;
        for (auto& end : musts[m + 1].landings)
        {
            end.onGrid.assign (grid.size(), none);
            std::size_t first = 0;
            for (const auto& start : musts[m].landings)
            {
                if (end.seconds > start.seconds)
                {
                    addSteady (musts[m], start, first, musts[m + 1], end);
                    addRamps (musts[m], start, first, musts[m + 1], end);
                }
                first += start.states.size();
            }
            any = any || ! end.states.empty();
        }
        if (! any)
            return { {}, obstacleAt (musts[m], musts[m + 1]) };
    }
    const State* best = nullptr;
    double least = infinite;
    for (const auto& end : musts.back().landings)
        for (const auto& state : end.states)
            if (const double cost = state.cost + tailCost (musts.back(), end, state.tempo); cost < least)
            {
                least = cost;
                best = &state;
            }
    std::vector<BarStretch> way;
    int firstLanding = 0;
    for (std::size_t m = musts.size() - 1; m > 0; --m)
    {
        way.insert (way.begin(), best->stretch);
        auto index = best->before;
        for (const auto& landing : musts[m - 1].landings)
        {
            if (index < landing.states.size())
            {
                best = &landing.states[index];
                firstLanding = landing.frames;
                break;
            }
            index -= landing.states.size();
        }
    }
    for (auto& stretch : way)
        stretch.bars = fills[static_cast<std::size_t> (stretch.beats)].bars;
    return { built (way, least, firstLanding), {} };
}

BarFit BarSearch::built (const std::vector<BarStretch>& way, double cost, int firstLanding) const
{
    BarFit fit;
    fit.stretches = way;
    fit.cost = cost;
    const auto& first = hits[musts.front().target];
    const auto struck = [&] (std::size_t target, int frames)
    { return hits[target].seconds + time::Rational (frames) * wanted.frame; };
    fit.firstLandingCost = landingCost (wanted.costs, firstLanding * frame, first.early, first.late);
    fit.barOne = struck (musts.front().target, firstLanding);
    fit.landings.resize (hits.size());
    fit.plan.meters.clear();
    fit.plan.tempos.clear();
    const time::Rational beat = wanted.unit * time::Rational (4);
    const auto meterOf = [&] (int beats)
    {
        const auto count = wanted.unit.numerator() * beats;
        return Meter{ static_cast<int> (count), static_cast<int> (wanted.unit.denominator()), {} };
    };
    std::int64_t beatsBefore = 0, bar = 1;
    auto at = fit.barOne;
    for (const auto& stretch : way)
    {
        const auto to = struck (stretch.to, stretch.landing);
        for (const int beats : stretch.bars)
        {
            if (fit.plan.meters.empty() || ! (fit.plan.meters.back().meter == meterOf (beats)))
                fit.plan.meters.push_back ({ bar, meterOf (beats) });
            ++bar;
        }
        const auto position = [&] (const time::Rational& beats) { return (time::Rational (beatsBefore) + beats) * beat; };
        const auto tempo = [] (double x) { return nearestPart (x, 1'000'000); };
        if (! stretch.ramp)
            // Exact: whole beats over an exact time.
            fit.plan.tempos.push_back (
                { position (0), time::Rational (60 * stretch.beats) / (to - at), wanted.unit, Course::steady, {} });
        else
        {
            const auto steady = nearestPart (stretch.steadyBeats, 100'000'000);
            if (steady.sign() > 0)
                fit.plan.tempos.push_back ({ position (0), tempo (stretch.entry), wanted.unit, Course::steady, {} });
            fit.plan.tempos.push_back (
                { position (steady), tempo (stretch.entry), wanted.unit, Course::rampInTime, tempo (stretch.exit) });
        }
        const double start = time::toDouble (at);
        for (std::size_t i = stretch.from; i <= stretch.to; ++i)
        {
            const double moment = seconds[i] - start;
            auto& landing = fit.landings[i];
            landing.judged = true;
            const double below =
                std::clamp (std::floor (beatAt (stretch, moment) + edge), 0.0, static_cast<double> (stretch.beats));
            double least = infinite;
            const double ends[] = { below, std::min (below + 1, static_cast<double> (stretch.beats)) };
            for (const double near : ends)
            {
                const double late = beatSeconds (stretch, near) - moment;
                const double price =
                    hits[i].must ? std::abs (late) : missCost (wanted.costs, late, hits[i].weight, hits[i].early, hits[i].late);
                if (price < least - 1e-15 || (price < least + 1e-15 && std::abs (late) < std::abs (landing.late)))
                {
                    least = price;
                    landing = { static_cast<double> (beatsBefore) + near, late, hits[i].must ? 0 : price, true };
                }
            }
        }
        beatsBefore += stretch.beats;
        at = to;
    }
    fit.landings[musts.front().target] = { 0, firstLanding * frame, fit.firstLandingCost, true };
    beatsBefore = 0;
    for (const auto& stretch : way)
    {
        beatsBefore += stretch.beats;
        fit.landings[stretch.to] = { static_cast<double> (beatsBefore), stretch.landing * frame, stretch.landingCost, true };
    }
    const auto& last = way.back();
    const auto closing = last.ramp ? nearestPart (last.exit, 1'000'000) : fit.plan.tempos.back().beatsPerMinute;
    if (last.ramp)
        fit.plan.tempos.push_back ({ time::Rational (beatsBefore) * beat, closing, wanted.unit, Course::steady, {} });
    for (std::size_t i = last.to + 1; i < hits.size(); ++i)
    {
        const double place = (seconds[i] - time::toDouble (at)) * last.exit / 60;
        double least = infinite;
        for (const double near : { std::floor (place), std::ceil (place) })
        {
            const double late = (near - place) * 60 / last.exit;
            if (const double price = missCost (wanted.costs, late, hits[i].weight, hits[i].early, hits[i].late); price < least)
            {
                least = price;
                fit.landings[i] = { static_cast<double> (beatsBefore) + near, late, price, true };
            }
        }
    }
    return fit;
}
} // namespace shutterbeat::music
