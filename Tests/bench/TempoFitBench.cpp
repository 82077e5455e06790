// Times of the fits: one tempo of 60 hits over 40 to 208 at 0.01 by every measure, bars of a five-minute cue with 40 hits and
// 12 musts, and how both grow with hits. Prints a table; ends with status 1 where an aim is missed.
#include "music/BarFit.h"
#include "music/TempoFit.h"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <functional>

using namespace shutterbeat;

namespace
{
struct Dice
{
    unsigned long long state = 88172645463325252ull;
    double real (double low, double high)
    {
        state = state * 6364136223846793005ull + 1442695040888963407ull;
        return low + (high - low) * (static_cast<double> (state >> 11) / 9007199254740992.0);
    }
};

/// The best of several runs, milliseconds.
double best (const std::function<void()>& work)
{
    double least = 1e9;
    for (int run = 0; run < 5; ++run)
    {
        const auto start = std::chrono::steady_clock::now();
        work();
        least = std::min (least, std::chrono::duration<double, std::milli> (std::chrono::steady_clock::now() - start).count());
    }
    return least;
}

std::vector<music::FitTarget> hits (int count, bool weighted, int musts)
{
    Dice dice;
    std::vector<music::FitTarget> targets;
    for (int i = 0; i < count; ++i)
        targets.push_back ({ dice.real (0, 300), weighted ? dice.real (.25, 4) : 1.0, .04, .08, i < musts });
    return targets;
}

double oneTempo (int count, music::FitMeasure measure, bool weighted, int musts = 0)
{
    const auto targets = hits (count, weighted, musts);
    music::FitWish wish;
    wish.measure = measure;
    std::size_t points = 0;
    const double spent = best ([&] { points = music::tempoCurve (targets, wish)->size(); });
    if (points != 16801)
        std::printf ("expected 16801 tempos, had %zu\n", points);
    return spent;
}

double bars (int count, int musts, int landing)
{
    Dice dice;
    const double length = 7.5 * count;
    std::vector<double> seconds;
    for (int i = 0; i < count; ++i)
        seconds.push_back (dice.real (0, length));
    std::sort (seconds.begin(), seconds.end());
    std::vector<music::BarTarget> targets;
    for (int i = 0; i < count; ++i)
    {
        music::BarTarget target;
        target.seconds = time::Rational (static_cast<std::int64_t> (seconds[static_cast<std::size_t> (i)] * 24), 24);
        target.must = i == 0 || i == count - 1 || (i * (musts - 1)) / (count - 1) != ((i - 1) * (musts - 1)) / (count - 1);
        target.early = target.late = .1;
        if (! targets.empty() && target.must && target.seconds <= targets.back().seconds)
            target.seconds = targets.back().seconds + time::Rational (2);
        targets.push_back (target);
    }
    music::BarWish wish;
    wish.preferred = 92;
    wish.landingFrames = landing;
    bool fits = false;
    const double spent = best (
        [&]
        {
            const auto answer = music::fitBars (targets, wish);
            fits = answer.ok() && answer->fit.has_value();
        });
    if (! fits)
        std::printf ("bars of %d hits do not fit\n", count);
    return spent;
}

int missed = 0;

void report (const char* what, double spent, double aim)
{
    std::printf ("%-58s %8.1f ms   aim %5.0f%s\n", what, spent, aim, spent > aim ? "   MISSED" : "");
    if (spent > aim)
        ++missed;
}
} // namespace

int main()
{
    using music::FitMeasure;
    report ("one tempo, 60 hits, largest error", oneTempo (60, FitMeasure::largest, false), 50);
    report ("one tempo, 60 hits, squares", oneTempo (60, FitMeasure::squares, false), 50);
    report ("one tempo, 60 hits, beyond limits", oneTempo (60, FitMeasure::beyond, false), 50);
    report ("one tempo, 60 hits, beyond limits, 4 musts", oneTempo (60, FitMeasure::beyond, false, 4), 50);
    report ("one tempo, 60 hits, weighted largest error", oneTempo (60, FitMeasure::largest, true), 500);
    report ("bars, 300 s, 40 hits, 12 musts, one frame", bars (40, 12, 1), 300);
    report ("bars, 300 s, 40 hits, 12 musts, two frames", bars (40, 12, 2), 500);
    std::printf ("\n%6s %10s %10s %10s %10s %16s\n", "hits", "largest", "squares", "beyond", "weighted", "bars (3/10 musts)");
    for (const int count : { 15, 30, 60, 120, 240, 480 })
        std::printf ("%6d %10.1f %10.1f %10.1f %10.1f %16.1f\n", count, oneTempo (count, FitMeasure::largest, false),
                     oneTempo (count, FitMeasure::squares, false), oneTempo (count, FitMeasure::beyond, false),
                     oneTempo (count, FitMeasure::largest, true), count <= 240 ? bars (count, count * 3 / 10, 1) : 0);
    return missed > 0 ? 1 : 0;
}
