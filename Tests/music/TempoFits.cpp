#include "Catch.h"

#include "music/FrameClick.h"
#include "music/PhaseFit.h"
#include "music/TempoFit.h"
#include "music/TempoPolish.h"

#include <algorithm>
#include <cmath>

using namespace shutterbeat;
using music::FitMeasure;
using music::FitPoint;
using music::FitTarget;
using music::FitWish;
using music::PhaseFit;
using time::Rational;

namespace
{
/// The same numbers everywhere from one seed.
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

std::vector<FitTarget> randomTargets (Dice& dice, int most)
{
    std::vector<FitTarget> targets;
    const int count = dice.whole (1, most);
    const int kind = dice.whole (0, 3);
    for (int i = 0; i < count; ++i)
    {
        FitTarget target;
        // Some on exact frames, some together.
        target.seconds = kind == 0 ? dice.whole (0, 500) / 24.0 : dice.real (0, 60);
        if (kind == 2 && i > 0 && dice.whole (0, 2) == 0)
            target.seconds = targets.front().seconds;
        target.weight = kind == 1 ? dice.real (.1, 4) : 1.0 / dice.whole (1, 3);
        target.early = dice.whole (0, 4) == 0 ? 0 : dice.real (0, .15);
        target.late = dice.whole (0, 4) == 0 ? 0 : dice.real (0, .15);
        target.must = dice.whole (0, 3) == 0;
        targets.push_back (target);
    }
    return targets;
}

const FitMeasure measures[] = { FitMeasure::largest, FitMeasure::squares, FitMeasure::beyond };

/// What a fit must not be worse than: a few thousand starts tried one by one.
double bruteForce (const std::vector<FitTarget>& targets, const FitWish& wish, double step)
{
    double best = std::numeric_limits<double>::infinity();
    const double circle = step * static_cast<double> (std::max<std::size_t> (1, wish.dearness.size()));
    for (int i = 0; i < 4000; ++i)
    {
        const double start = circle * i / 4000;
        double value = 0;
        for (const auto& target : targets)
        {
            double least = std::numeric_limits<double>::infinity(), largest = least, least2 = least;
            for (std::size_t slot = 0; slot < std::max<std::size_t> (1, wish.dearness.size()); ++slot)
            {
                const double base = start + static_cast<double> (slot) * step;
                const double turn = std::floor ((target.seconds - base) / circle);
                for (double k = turn - 1; k <= turn + 2; ++k)
                {
                    const double late = base + k * circle - target.seconds;
                    const double over = std::max ({ 0.0, late - target.late, -late - target.early });
                    largest = std::min (largest, std::abs (late));
                    least2 = std::min (least2, over);
                    if (! target.must || over == 0)
                        least = std::min (least, over + (wish.dearness.empty() ? 0 : wish.dearness[slot]));
                }
            }
            if (target.must && least2 > 0)
                value = std::numeric_limits<double>::infinity();
            else if (! wish.dearness.empty())
                value += target.weight * least;
            else if (wish.measure == FitMeasure::largest)
                value = std::max (value, target.weight * largest);
            else if (wish.measure == FitMeasure::squares)
                value += target.weight * largest * largest;
            else
                value += target.weight * least2;
        }
        best = std::min (best, value);
    }
    return best;
}

void neverWorse (const std::vector<FitTarget>& targets, const FitWish& wish, PhaseFit& phases, double step)
{
    const auto found = phases.at (step);
    const double brute = bruteForce (targets, wish, step);
    if (! (found.value <= brute + 1e-9))
        FAIL ("found " << found.value << ", brute force " << brute << ", step " << step << ", " << targets.size() << " targets");
    if (found.fits() && std::abs (phases.valueOf (step, found.start) - found.value) > 1e-9)
        FAIL ("said " << found.value << ", is " << phases.valueOf (step, found.start) << ", step " << step << " start "
                      << found.start);
}

std::vector<FitTarget> targetsAt (const std::vector<double>& seconds)
{
    std::vector<FitTarget> targets;
    for (const double at : seconds)
        targets.push_back ({ at, 1, 0, 0, false });
    return targets;
}
} // namespace

TEST_CASE ("the fit oracle of handbook 4.7: start fixed, ranked by largest error")
{
    struct Row
    {
        std::string click;
        double largest, rms;
    };
    const std::vector<std::pair<double, std::vector<Row>>> rows{
        { .5, { { "13-0", 64.17, 37.38 }, { "11-6", 67.71, 42.15 }, { "10-5", 70.31, 60.98 } } },
        { 1, { { "11-0", 86.67, 64.18 }, { "15-5", 102.29, 69.16 }, { "11-4", 123.33, 83.80 } } },
    };
    const auto targets = targetsAt ({ 3.25, 7.79, 12.46, 20.08 });
    for (const auto& [grid, expected] : rows)
    {
        FitWish wish;
        wish.measure = FitMeasure::largest;
        wish.start = 0;
        wish.grid = grid;
        PhaseFit phases (targets, wish);
        std::vector<std::pair<double, std::int64_t>> all;
        for (std::int64_t eighths = 80; eighths <= 160; ++eighths)
            all.push_back ({ phases.at (static_cast<double> (eighths) / 192 * grid).value, eighths });
        std::sort (all.begin(), all.end());
        for (std::size_t i = 0; i < expected.size(); ++i)
        {
            const music::FrameClick click{ all[i].second };
            CHECK (music::clickText (click) == expected[i].click);
            CHECK (std::abs (all[i].first * 1000 - expected[i].largest) < .005);
            const auto tempo = time::toDouble (music::beatsPerMinute (click, Rational (24)));
            double squares = 0;
            for (const auto& landing : music::landingsOf (targets, wish, { tempo, 0, 0 }))
                squares += landing.late * landing.late / 4;
            CHECK (std::abs (std::sqrt (squares) * 1000 - expected[i].rms) < .005);
        }
    }
}

TEST_CASE ("no start tried by brute force is better, whatever the measure, limits, weights and musts")
{
    CHECK_PROPERTY (
        [] (unsigned long long seed)
        {
            Dice dice (seed);
            for (int round = 0; round < 12; ++round)
            {
                const auto targets = randomTargets (dice, 7);
                for (const auto measure : measures)
                {
                    FitWish wish;
                    wish.measure = measure;
                    PhaseFit phases (targets, wish);
                    // One solver over several tempos, as in a sweep: what it keeps between them must not show.
                    double tempo = dice.real (30, 220);
                    for (int i = 0; i < 3; ++i, tempo += dice.real (-3, 3))
                        neverWorse (targets, wish, phases, 60 / tempo);
                }
            }
        });
}

TEST_CASE ("strong beats: no start tried by brute force is better")
{
    CHECK_PROPERTY (
        [] (unsigned long long seed)
        {
            Dice dice (seed);
            const auto targets = randomTargets (dice, 4);
            FitWish wish;
            wish.dearness = { 0, dice.real (0, .2), dice.real (0, .1), dice.real (0, .2) };
            PhaseFit phases (targets, wish);
            neverWorse (targets, wish, phases, 60 / dice.real (40, 200));
        });
}

TEST_CASE ("strong beats draw hits to bar starts when asked")
{
    auto targets = targetsAt ({ 0, 2, 4, 6.5 });
    for (auto& target : targets)
        target.early = target.late = .05;
    FitWish wish;
    wish.dearness = { 0, .2, .2, .2 };
    PhaseFit phases (targets, wish);
    const auto found = phases.at (.5);
    CHECK (std::abs (std::remainder (found.start, 2)) <= .05 + 1e-9);
    CHECK (found.value == Approx (.2));
    const auto landings = music::landingsOf (targets, wish, { 120, found.start, 0 });
    CHECK (std::fmod (landings[1].beat, 4) == Approx (0));
    CHECK (landings[3].within);
}

TEST_CASE ("planted tempos are found to the last digit and said in frames")
{
    CHECK_PROPERTY (
        [] (unsigned long long seed)
        {
            Dice dice (seed);
            const double tempo = dice.real (60, 180), start = dice.real (0, .3);
            std::vector<FitTarget> targets;
            double at = start;
            for (int i = 0; i < 12; ++i)
            {
                targets.push_back ({ at, 1, .01, .01, false });
                at += 60 / tempo * dice.whole (3, 17);
            }
            for (const auto measure : measures)
            {
                FitWish wish;
                wish.measure = measure;
                wish.lowest = 50;
                wish.highest = 200;
                const auto curve = *music::tempoCurve (targets, wish);
                const auto best = music::bestTempos (targets, wish, curve, 5);
                RC_ASSERT (! best.empty());
                RC_ASSERT (best.front().value < 1e-7);
                for (std::size_t i = 1; i < best.size(); ++i)
                    RC_ASSERT (best[i].value >= best[i - 1].value);
                // Multiples of the tempo fit as well; one of the best is the planted one.
                if (measure != FitMeasure::beyond)
                    RC_ASSERT (std::any_of (best.begin(), best.end(),
                                            [&] (const FitPoint& p) { return std::abs (p.beatsPerMinute - tempo) < 1e-4; }));
            }
        });
}

TEST_CASE ("a polished tempo is an optimum: no direction in tempo and start leads down, and none of the curve is below the best")
{
    CHECK_PROPERTY (
        [] (unsigned long long seed)
        {
            Dice dice (seed);
            const auto targets = randomTargets (dice, 6);
            FitWish wish;
            wish.measure = measures[dice.whole (0, 2)];
            wish.lowest = 70;
            wish.highest = 110;
            wish.step = .05;
            if (dice.whole (0, 3) == 0)
                wish.start = dice.real (0, 1);
            const auto curve = *music::tempoCurve (targets, wish);
            PhaseFit phases (targets, wish);
            const auto best = music::bestTempos (targets, wish, curve, 3);
            for (const auto& other : curve)
                RC_ASSERT ((best.empty() ? ! other.fits() : best.front().value <= other.value + 1e-9));
            for (const auto& point : best)
            {
                RC_ASSERT (point.beatsPerMinute >= 70 - 1e-9);
                RC_ASSERT (point.beatsPerMinute <= 110 + 1e-9);
                RC_ASSERT (std::abs (phases.valueOf (60 / point.beatsPerMinute, point.start) - point.value) < 1e-8);
                // With these beat numbers the value is convex in tempo and start: no direction leads down.
                const auto landings = music::landingsOf (targets, wish, point);
                const double step = 60 / point.beatsPerMinute;
                const auto value = [&] (double otherStep, double start)
                {
                    double sum = 0;
                    for (std::size_t i = 0; i < targets.size(); ++i)
                    {
                        const auto& target = targets[i];
                        const double late = start + landings[i].beat * otherStep - target.seconds;
                        const double over = std::max ({ 0.0, late - target.late, -late - target.early });
                        if (target.must && over > 0)
                            return std::numeric_limits<double>::infinity();
                        if (wish.measure == FitMeasure::largest)
                            sum = std::max (sum, target.weight * std::abs (late));
                        else if (wish.measure == FitMeasure::squares)
                            sum += target.weight * late * late;
                        else
                            sum += target.weight * over;
                    }
                    return sum;
                };
                for (int angle = 0; angle < 64; ++angle)
                    for (const double away : { 1e-3, 1e-5 })
                    {
                        // A beat far off moves by its number: scale so that both count alike.
                        const double other = step + away * std::cos (angle * .0981748) / 100;
                        const double start = point.start + (wish.start ? 0 : away * std::sin (angle * .0981748));
                        if (60 / other >= 70 && 60 / other <= 110)
                            RC_ASSERT (value (other, start) >= point.value - 1e-9);
                    }
            }
        });
}

TEST_CASE ("an exact optimum off the grid: the vertex that limits and hits make")
{
    // Largest error over three hits: the line that misses all three by the same amount, known in closed form.
    const auto targets = targetsAt ({ 0, 10.1, 20 });
    FitWish wish;
    wish.measure = FitMeasure::largest;
    wish.lowest = 59;
    wish.highest = 61;
    const auto best = music::bestTempos (targets, wish, *music::tempoCurve (targets, wish), 1);
    REQUIRE (best.size() == 1);
    CHECK (best[0].beatsPerMinute == Approx (60).epsilon (1e-9));
    CHECK (best[0].value == Approx (.05).epsilon (1e-9));
    CHECK (best[0].start == Approx (.05).epsilon (1e-9));
}

TEST_CASE ("nothing fits: the hit, the pair, or the one too many")
{
    auto targets = targetsAt ({ 1, 1.25, 9 });
    for (auto& target : targets)
    {
        target.must = true;
        target.early = target.late = .02;
    }
    FitWish wish;
    wish.lowest = 60;
    wish.highest = 120;
    const auto pair = music::obstacleTo (targets, wish);
    REQUIRE (pair);
    CHECK (pair->alone);
    CHECK (pair->targets == std::vector<std::size_t>{ 0, 1 });
    const auto curve = *music::tempoCurve (targets, wish);
    for (const auto& point : curve)
        CHECK_FALSE (point.fits());
    wish.start = 0.75;
    const auto one = music::obstacleTo (targets, wish);
    REQUIRE (one);
    CHECK (one->targets == std::vector<std::size_t>{ 0 });
    wish.start.reset();
    targets = targetsAt ({ 0, 10, 20, 30.47, 41.13 });
    for (auto& target : targets)
    {
        target.must = true;
        target.early = target.late = .005;
    }
    wish.lowest = 60;
    wish.highest = 63;
    const auto three = music::obstacleTo (targets, wish);
    REQUIRE (three);
    targets.pop_back();
    targets.pop_back();
    CHECK_FALSE (music::obstacleTo (targets, wish));
}

TEST_CASE ("what chance gives: a quarter of a beat for one start, and few hits fit anything")
{
    std::vector<FitTarget> targets = targetsAt ({ 0, 13, 29, 41, 60, 77, 90, 104, 120, 131 });
    FitWish wish;
    wish.measure = FitMeasure::squares;
    wish.start = 0;
    const auto line = music::chanceLine (targets, wish, { 60, 120 });
    // The mean square of an even spread over a beat of s is s*s/12.
    CHECK (line[0] == Approx (10.0 / 12).epsilon (.1));
    CHECK (line[1] == Approx (2.5 / 12).epsilon (.1));
    CHECK (line == music::chanceLine (targets, wish, { 60, 120 }));
    wish.start.reset();
    CHECK (music::chanceLine (targets, wish, { 60 })[0] < line[0]);
    // Prototype figures: one frame either way, 120 s, 60 to 120: 3 hits always fit, 8 never.
    for (auto& target : targets)
        target.early = target.late = 1.0 / 24;
    wish.lowest = 60;
    wish.highest = 120;
    CHECK (music::chanceOfFit ({ targets[0], targets[3], targets[8] }, wish) > .9);
    CHECK (music::chanceOfFit ({ targets.begin(), targets.begin() + 9 }, wish) < .1);
}

TEST_CASE ("wishes that make no sense are refused")
{
    const auto targets = targetsAt ({ 1, 2 });
    const auto refused = [&] (auto change)
    {
        FitWish wish;
        change (wish);
        return ! music::tempoCurve (targets, wish).ok();
    };
    CHECK (refused ([] (FitWish& w) { w.lowest = 0; }));
    CHECK (refused ([] (FitWish& w) { w.highest = 39; }));
    CHECK (refused ([] (FitWish& w) { w.step = 0; }));
    CHECK (refused ([] (FitWish& w) { w.step = 1e-5; }));
    CHECK (refused ([] (FitWish& w) { w.grid = 0; }));
    CHECK (refused ([] (FitWish& w) { w.start = std::nan (""); }));
    CHECK (refused ([] (FitWish& w) { w.dearness = { 0, 1 }, w.measure = FitMeasure::squares; }));
    CHECK_FALSE (music::tempoCurve ({}, {}).ok());
    CHECK_FALSE (music::tempoCurve ({ { 0, -1, 0, 0, false } }, {}).ok());
    CHECK_FALSE (music::tempoCurve ({ { std::nan (""), 1, 0, 0, false } }, {}).ok());
}
