#pragma once

#include "time/Result.h"

#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::music
{
/// What each compromise costs. The numbers are a starting point, for musicians to change; the units are arbitrary, 1 being
/// a clear but small blemish.
struct BarCosts
{
    double deviation = .04;   ///< part of the preferred tempo that costs 1 for ten seconds; cost grows with its square
    double step = .03;        ///< jump of tempo that costs 1; smaller by the square, larger by twice less 1
    double ramp = .03;        ///< change in a ramp of two beats that costs 1; by the square, less in longer ramps
    double shorter = .5;      ///< a bar one beat short
    double shorter2 = .6;     ///< a bar two beats short
    double longer = 1.2;      ///< a bar one beat long
    double meterChange = .15; ///< each change of meter; every stretch begins and ends in the usual one
    double landing = .3;      ///< a must struck at its limit; by the square
    double missCap = 3;       ///< the most that a missed hit costs, times its weight
    double barInOut = 1;      ///< a bar put in or taken out of written music
};

/// Names for settings, such as "deviation".
std::vector<std::string> costNames();
/// Sets one by name. Error: no such name, or a value that is not above zero (costs may be zero, scales may not).
Result<Done> setCost (BarCosts& costs, std::string_view name, double value);
/// "deviation 0.04, step 0.03, ..." in the order of costNames().
std::string costsText (const BarCosts& costs);

/// The cost of a jump from one tempo to another.
double stepCost (const BarCosts& costs, double from, double to);
/// The cost of ten seconds at a tempo.
double deviationCost (const BarCosts& costs, double tempo, double preferred);
/// The cost of a ramp over some beats.
double rampCost (const BarCosts& costs, double from, double to, double beats);
/// The cost of striking `late` seconds beside a hit that is no must.
double missCost (const BarCosts& costs, double late, double weight, double early, double lateLimit);
/// The cost of a must struck `late` seconds beside it.
double landingCost (const BarCosts& costs, double late, double early, double lateLimit);

/// The cheapest bars for a number of beats.
struct BarFill
{
    double cost = 0;
    std::vector<int> bars; ///< beats of each; empty: not possible
};
/// For every number of beats up to `most`: index 0 is no beats.
std::vector<BarFill> cheapestBars (const BarCosts& costs, int beatsPerBar, int most);
} // namespace shutterbeat::music
