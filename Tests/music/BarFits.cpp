#include "Catch.h"

#include "music/BarFit.h"
#include "music/Refit.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

using namespace shutterbeat;
using music::BarTarget;
using music::BarWish;
using music::RefitWish;
using music::TempoMap;
using time::Rational;

namespace
{
constexpr double infinite = std::numeric_limits<double>::infinity();

BarTarget at (double seconds, bool must, double weight = 1)
{
    BarTarget target;
    target.seconds = Rational (static_cast<std::int64_t> (std::llround (seconds * 24000)), 24000);
    target.must = must;
    target.weight = weight;
    return target;
}

double square (double x)
{
    return x * x;
}

/// Looks at every way there is, with costs of its own spelling: what the dynamic programme must not be beaten by.
class Exhaustive
{
public:
    Exhaustive (const std::vector<BarTarget>& list, const BarWish& asked)
        : targets (list)
        , wish (asked)
        , preferred (time::toDouble (asked.preferred))
        , frame (time::toDouble (asked.frame))
    {
        for (std::size_t i = 0; i < targets.size(); ++i)
            if (targets[i].must)
                musts.push_back (i);
        if (wish.rampGrid > 0)
            for (double k = std::ceil (preferred * (1 - wish.band) / wish.rampGrid - 1e-9);
                 k * wish.rampGrid <= preferred * (1 + wish.band) + 1e-9; ++k)
                grid.push_back (k * wish.rampGrid);
    }

    double best()
    {
        double least = infinite;
        for (int o = -wish.landingFrames; o <= wish.landingFrames; ++o)
            if (allowed (musts[0], o))
            {
                least = std::min (least, landing (musts[0], o) + from (0, o, 0));
                for (const double tempo : grid)
                    least = std::min (least, landing (musts[0], o) + from (0, o, tempo));
            }
        return least;
    }

    std::size_t leaves = 0;

private:
    [[nodiscard]] double when (std::size_t target) const { return time::toDouble (targets[target].seconds); }
    [[nodiscard]] bool allowed (std::size_t target, int o) const
    {
        return o * frame >= -targets[target].early - 1e-9 && o * frame <= targets[target].late + 1e-9;
    }
    [[nodiscard]] double landing (std::size_t target, int o) const
    {
        return o == 0 ? 0 : wish.costs.landing * square (o * frame / (o > 0 ? targets[target].late : targets[target].early));
    }
    [[nodiscard]] double away (double tempo) const { return square (std::log (tempo / preferred) / wish.costs.deviation); }
    [[nodiscard]] double step (double a, double b) const
    {
        const double r = std::abs (std::log (a / b)) / wish.costs.step;
        return r <= 1 ? r * r : 2 * r - 1;
    }

    /// Every way to write bars for so many beats.
    double bars (int beats, int before)
    {
        const int n = wish.beatsPerBar;
        if (beats == 0)
            return before == n ? 0 : wish.costs.meterChange;
        if (const auto known = barsKnown.find ({ beats, before }); known != barsKnown.end())
            return known->second;
        double least = infinite;
        for (const auto& [length, cost] : std::vector<std::pair<int, double>>{
                 { n, 0 }, { n - 1, wish.costs.shorter }, { n - 2, wish.costs.shorter2 }, { n + 1, wish.costs.longer } })
            if (length > 0 && length <= beats)
                least = std::min (least, cost + (length == before ? 0 : wish.costs.meterChange) + bars (beats - length, length));
        return barsKnown[{ beats, before }] = least;
    }

    /// What the hits between cost when beats come at these moments.
    [[nodiscard]] double misses (std::size_t first, std::size_t end, const std::vector<double>& beats) const
    {
        double sum = 0;
        for (std::size_t i = first; i < end; ++i)
        {
            double least = infinite;
            for (const double beat : beats)
            {
                const double late = beat - when (i), limit = late > 0 ? targets[i].late : targets[i].early;
                least =
                    std::min (least, targets[i].weight
                                         * std::min (wish.costs.missCap, square (std::max (0.0, std::abs (late) - limit) / limit)));
            }
            sum += least;
        }
        return sum;
    }

    double from (std::size_t m, int o, double tempo)
    {
        const double start = when (musts[m]) + o * frame;
        if (m + 1 == musts.size())
        {
            ++leaves;
            std::vector<double> beats;
            for (int b = 0; b < 200; ++b)
                beats.push_back (start + 60 * b / tempo);
            return misses (musts[m] + 1, targets.size(), beats);
        }
        double least = infinite;
        for (int end = -wish.landingFrames; end <= wish.landingFrames; ++end)
        {
            const double duration = when (musts[m + 1]) + end * frame - start;
            if (! allowed (musts[m + 1], end) || duration <= 0)
                continue;
            for (int beats = 1; beats < 60; ++beats)
            {
                const double barCost = bars (beats, wish.beatsPerBar);
                if (barCost == infinite)
                    continue;
                const double common = barCost + landing (musts[m + 1], end);
                const double even = 60 * beats / duration;
                std::vector<double> moments;
                if (even >= preferred * (1 - wish.band) - 1e-9 && even <= preferred * (1 + wish.band) + 1e-9)
                {
                    for (int b = 0; b <= beats; ++b)
                        moments.push_back (start + 60 * b / even);
                    least = std::min (least, common + away (even) * duration / 10 + (tempo == 0 ? 0 : step (tempo, even))
                                                 + misses (musts[m] + 1, musts[m + 1], moments) + from (m + 1, end, even));
                }
                if (tempo == 0)
                    continue;
                for (const double exit : grid)
                {
                    if (std::abs (exit - tempo) < 1e-9)
                        continue;
                    const double x = (duration - 120 * beats / (tempo + exit)) / (60 / tempo - 120 / (tempo + exit));
                    if (x < -1e-9 || x > beats - 1 + 1e-9)
                        continue;
                    const double steady = std::min (std::max (x, 0.0), beats - 1.0), flat = 60 * steady / tempo,
                                 ramp = duration - flat;
                    moments.clear();
                    for (int b = 0; b <= beats; ++b)
                        if (b <= steady)
                            moments.push_back (start + 60 * b / tempo);
                        else
                        {
                            // Tempo linear in time from tempo to exit over `ramp` seconds.
                            const double done = b - steady, slope = (exit - tempo) / ramp;
                            const double t = (-tempo + std::sqrt (tempo * tempo + 2 * slope * 60 * done)) / slope;
                            moments.push_back (start + flat + t);
                        }
                    least = std::min (least, common + (away (tempo) * flat + (away (tempo) + away (exit)) / 2 * ramp) / 10
                                                 + .5 * square (std::log (exit / tempo) / wish.costs.ramp) * 4 / (beats - steady)
                                                 + misses (musts[m] + 1, musts[m + 1], moments) + from (m + 1, end, exit));
                }
            }
        }
        return least;
    }

    const std::vector<BarTarget>& targets;
    const BarWish& wish;
    double preferred, frame;
    std::vector<std::size_t> musts;
    std::vector<double> grid;
    std::map<std::pair<int, int>, double> barsKnown;
};

struct Dice
{
    explicit Dice (unsigned long long seed)
        : state (seed * 2862933555777941757ull + 3037000493ull)
    {
    }
    double real (double low, double high)
    {
        state = state * 6364136223846793005ull + 1442695040888963407ull;
        return low + (high - low) * (static_cast<double> (state >> 11) / 9007199254740992.0);
    }
    int whole (int low, int high) { return low + static_cast<int> (real (0, high - low + 1)); }
    unsigned long long state;
};
} // namespace

TEST_CASE ("bars cost no more than the best of an exhaustive search")
{
    std::size_t fits = 0, leaves = 0;
    for (unsigned long long seed = 1; seed <= 400; ++seed)
    {
        Dice dice (seed);
        std::vector<BarTarget> targets;
        double moment = dice.real (0, 2);
        const int musts = dice.whole (2, 3);
        for (int m = 0; m < musts; ++m)
        {
            targets.push_back (at (moment, true));
            const double next = moment + dice.real (2.5, 7);
            for (int s = dice.whole (0, 2); s > 0; --s)
            {
                targets.push_back (at (dice.real (moment, next), false, 1.0 / dice.whole (1, 3)));
                targets.back().early = dice.real (.02, .1);
            }
            moment = next;
        }
        std::stable_sort (targets.begin(), targets.end(),
                          [] (const BarTarget& a, const BarTarget& b) { return a.seconds < b.seconds; });
        BarWish wish;
        wish.preferred = dice.whole (70, 140);
        wish.band = dice.real (.04, .12);
        wish.landingFrames = dice.whole (0, 1);
        wish.rampGrid = dice.whole (0, 3) == 0 ? 0 : dice.whole (2, 4);
        wish.beatsPerBar = dice.whole (2, 4);
        const auto answer = music::fitBars (targets, wish);
        REQUIRE (answer.ok());
        Exhaustive all (targets, wish);
        const double best = all.best();
        leaves += all.leaves;
        if (answer->fit.has_value() != (best < infinite))
            FAIL ("seed " << seed << ": fit " << answer->fit.has_value() << ", exhaustive " << best);
        if (! answer->fit)
            continue;
        ++fits;
        if (std::abs (answer->fit->cost - best) > 1e-7)
            FAIL ("seed " << seed << ": cost " << answer->fit->cost << ", exhaustive " << best);
        // What is printed adds up to it.
        double sum = answer->fit->firstLandingCost;
        for (const auto& stretch : answer->fit->stretches)
            sum += stretch.cost();
        for (std::size_t i = 0; i < targets.size(); ++i)
            if (i > answer->fit->stretches.back().to)
                sum += answer->fit->landings[i].cost;
        CHECK (sum == Approx (best).margin (1e-7));
        // And the map does what the fit says: musts on bar starts, to the frame; hits where their landings are.
        const auto map = TempoMap::of (answer->fit->plan);
        if (! map)
            FAIL (map.error().text());
        for (const auto& stretch : answer->fit->stretches)
        {
            const auto strikes = targets[stretch.to].seconds + Rational (stretch.landing) * wish.frame - answer->fit->barOne;
            const auto bar =
                map->barBeatOf (Rational (static_cast<std::int64_t> (std::llround (answer->fit->landings[stretch.to].beat))));
            CHECK (bar.beat == 1);
            CHECK (bar.fraction == Rational (0));
            CHECK (std::abs (time::toDouble (map->timeOf (map->barStart (bar.bar)) - strikes)) < 1e-6);
        }
        for (std::size_t i = 0; i < targets.size(); ++i)
            if (const auto& landing = answer->fit->landings[i]; landing.judged)
            {
                const auto beat = Rational (static_cast<std::int64_t> (std::llround (landing.beat)));
                const double late = time::toDouble (map->timeOf (beat) + answer->fit->barOne - targets[i].seconds);
                CHECK (late == Approx (landing.late).margin (2e-6));
            }
    }
    CHECK (fits > 200);
    CHECK (leaves > 10'000);
}

TEST_CASE ("the cue of the prototypes: ramps cost less than steps")
{
    std::vector<BarTarget> targets;
    for (const double must : { 0.0, 14.5, 33.0, 47.25, 70.04, 83.5 })
        targets.push_back (at (must, true));
    BarWish wish;
    wish.preferred = 92;
    const auto ramps = music::fitBars (targets, wish);
    wish.rampGrid = 0;
    const auto steps = music::fitBars (targets, wish);
    REQUIRE (ramps.ok());
    REQUIRE (ramps->fit);
    REQUIRE (steps->fit);
    CHECK (ramps->fit->cost <= steps->fit->cost + 1e-12);
    for (const auto& stretch : steps->fit->stretches)
    {
        CHECK_FALSE (stretch.ramp);
        CHECK (stretch.entry > 92 * .85);
        CHECK (stretch.entry < 92 * 1.15);
    }
}

TEST_CASE ("bars in compound time, and settings that change the answer")
{
    std::vector<BarTarget> targets{ at (0, true), at (10.5, true), at (20, true) };
    BarWish wish;
    wish.preferred = 80;
    wish.beatsPerBar = 2;
    wish.unit = Rational (3, 8);
    const auto answer = music::fitBars (targets, wish);
    REQUIRE (answer->fit);
    CHECK (music::meterText (answer->fit->plan.meters.front().meter) == "6/8");
    CHECK (TempoMap::of (answer->fit->plan).ok());
    music::BarCosts costs;
    CHECK (music::setCost (costs, "longer", 0).ok());
    CHECK (costs.longer == 0);
    CHECK_FALSE (music::setCost (costs, "deviation", 0).ok());
    CHECK_FALSE (music::setCost (costs, "speed", 1).ok());
    CHECK (music::costsText (costs).find ("longer 0.000") != std::string::npos);
    CHECK (music::costNames().size() == 10);
    // 7 beats of four: 4+3 by default; when a long bar costs nothing 5+2 is no better, 7 as 4+3 still pays for the short one.
    CHECK (music::cheapestBars ({}, 4, 8)[7].bars == std::vector<int>{ 4, 3 });
    CHECK (music::cheapestBars ({}, 4, 8)[8].bars == std::vector<int>{ 4, 4 });
    CHECK (music::cheapestBars (costs, 4, 10)[5].bars == std::vector<int>{ 5 });
    CHECK (music::cheapestBars ({}, 4, 8)[1].bars.empty());
}

TEST_CASE ("no bars fit: the two musts that stand in the way")
{
    BarWish wish;
    wish.preferred = 60;
    wish.band = .05;
    wish.landingFrames = 0;
    const auto answer = music::fitBars ({ at (0, true), at (8, true), at (9.5, true), at (20, true) }, wish);
    REQUIRE (answer.ok());
    REQUIRE (answer->obstacle);
    CHECK (answer->obstacle->from == 1);
    CHECK (answer->obstacle->to == 2);
    CHECK (answer->obstacle->why.find ("1.50 s apart") != std::string::npos);
    CHECK_FALSE (music::fitBars ({ at (0, true) }, wish).ok());
    CHECK_FALSE (music::fitBars ({ at (0, true), at (0, true) }, wish).ok());
    CHECK_FALSE (music::fitBars ({ at (3, true), at (0, true) }, wish).ok());
    wish.band = 2;
    CHECK_FALSE (music::fitBars ({ at (0, true), at (8, true) }, wish).ok());
}

namespace
{
/// 96 beats a minute, 24 frames a second, between bars 1 and 9 (32 beats), as in the prototypes.
std::vector<music::RefitWay> waysFor (int frames)
{
    RefitWish wish;
    wish.change = Rational (frames, 24);
    const auto ways = music::refitWays (*TempoMap::steady (96), wish);
    REQUIRE (ways.ok());
    REQUIRE_FALSE (ways->empty());
    return *ways;
}
} // namespace

TEST_CASE ("after a recut the least change comes first")
{
    // 15 frames are a beat at 96.
    const auto beat = waysFor (-15).front();
    CHECK (beat.beats == -1);
    CHECK (beat.nudgeBeats == 0);
    CHECK (beat.leftFrames == 0);
    CHECK (beat.bars.size() == 8);
    CHECK (music::wayText (beat, *TempoMap::steady (96)) == "one bar from 4/4 to 3/4 at any of bars 1 to 8");
    const auto bar = waysFor (-60).front();
    CHECK (bar.barsIn == -1);
    CHECK (bar.beats == -4);
    CHECK (music::wayText (bar, *TempoMap::steady (96)).find ("1 bar taken out") == 0);
    // A few frames: a nudge, perhaps a frame left over.
    const auto few = waysFor (-3).front();
    CHECK (few.beats == 0);
    CHECK (few.nudge > 0);
    CHECK (few.nudge < .0120);
    CHECK (waysFor (0).front().cost() == 0);
    CHECK (music::wayText (waysFor (0).front(), *TempoMap::steady (96)) == "nothing changes");
    CHECK (waysFor (37).front().beats >= 2);
    for (const int frames : { -50, -14, -3, 1, 7, 37, 100 })
    {
        const auto ways = waysFor (frames);
        for (std::size_t i = 1; i < ways.size(); ++i)
            CHECK (ways[i].cost() >= ways[i - 1].cost() - 1e-9);
    }
}

TEST_CASE ("each way, carried out, meets the place it is for")
{
    music::TempoPlan plan;
    plan.tempos = { { 0, 96, Rational (1, 4), music::Course::steady, {} },
                    { 32, 120, Rational (1, 4), music::Course::steady, {} } };
    plan.meters = { { 1, *music::parseMeter ("4/4") }, { 9, *music::parseMeter ("3/4") } };
    plan.keys = { { 9, 2, false } };
    const auto map = *TempoMap::of (plan);
    for (int frames = -70; frames <= 70; ++frames)
    {
        RefitWish wish;
        wish.change = Rational (frames, 24);
        const auto ways = music::refitWays (map, wish);
        REQUIRE (ways.ok());
        REQUIRE_FALSE (ways->empty());
        for (const auto& way : *ways)
        {
            const auto again = music::refitted (map, wish, way);
            if (! again)
                FAIL (again.error().text());
            const auto end = wish.endBar + way.barsIn;
            const auto strikes = again->timeOf (again->barStart (end));
            const auto wanted = map.timeOf (32) + wish.change + Rational (way.leftFrames, 24);
            if (std::abs (time::toDouble (strikes - wanted)) > 1e-6)
                FAIL ("frames " << frames << ": " << music::wayText (way, map) << " is " << time::toDouble (strikes - wanted)
                                << " s off");
            CHECK (music::meterText (again->meterOf (end)) == "3/4");
            CHECK (again->tempoAt (again->barStart (end)) == Rational (120));
            if (way.nudgeBeats < 32 + way.beats) // a nudge may reach back to the beginning of the span
                CHECK (again->tempoAt (0) == Rational (96));
            CHECK (std::abs (way.nudge) <= .03 + 1e-9);
        }
    }
    RefitWish across;
    across.endBar = 11;
    CHECK_FALSE (music::refitWays (map, across).ok());
    across.endBar = 1;
    CHECK_FALSE (music::refitWays (map, across).ok());
}
