#pragma once

#include "music/BarCosts.h"
#include "music/TempoMap.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::music
{
/// A moment that bars are fitted to: musts fall on bar starts, the others on beats as well as they can.
struct BarTarget
{
    time::Rational seconds; ///< picture and lead, from any one origin, exact
    double weight = 1;      ///< of what is no must
    double early = .04, late = .08;
    bool must = false;
};

/// What bars are to be like.
struct BarWish
{
    time::Rational preferred{ 96 }; ///< beats a minute
    double band = .15;              ///< how far from it the tempo may go, as a part of it
    int landingFrames = 1;          ///< whole frames that a must may be missed by, inside its limits
    time::Rational frame{ 1, 24 };  ///< seconds of a delivered frame
    double rampGrid = .5;           ///< tempos that ramps may end on: multiples of it; 0: no ramps
    int beatsPerBar = 4;
    time::Rational unit{ 1, 4 }; ///< the note value that is the beat
    BarCosts costs;
};

/// The music between two musts.
struct BarStretch
{
    std::size_t from = 0, to = 0; ///< indices of the musts among the targets
    int beats = 0;
    std::vector<int> bars;      ///< beats of each bar
    double entry = 0, exit = 0; ///< tempo at its start and end, beats a minute
    double steadyBeats = 0;     ///< at the entry tempo; the rest is a ramp linear in time
    bool ramp = false;
    int landing = 0; ///< frames the second must is struck late; below zero early
    double deviationCost = 0, tempoCost = 0, barsCost = 0, landingCost = 0, missCost = 0;

    [[nodiscard]] double cost() const { return deviationCost + tempoCost + barsCost + landingCost + missCost; }
};

/// How one of the targets comes out.
struct BarLanding
{
    double beat = 0;     ///< counted from bar 1 beat 1
    double late = 0;     ///< seconds
    double cost = 0;     ///< what it adds
    bool judged = false; ///< false: before bar 1, not fitted
};

/// Bars and tempos whose cost is the least that any has under the same costs: found by dynamic programming over musts,
/// landings and tempos, which looks at every one.
struct BarFit
{
    std::vector<BarStretch> stretches;
    std::vector<BarLanding> landings; ///< one a target
    double cost = 0;
    double firstLandingCost = 0;
    TempoPlan plan;
    time::Rational barOne; ///< seconds of bar 1 beat 1, from the targets' origin
};

/// Two musts between which no tempo of the band makes whole bars.
struct BarObstacle
{
    std::size_t from = 0, to = 0;
    std::string why;
};

/// Either a fit or what stands in the way.
struct BarAnswer
{
    std::optional<BarFit> fit;
    std::optional<BarObstacle> obstacle;
};

/// Fits bars to targets in order of time. Error: fewer than two musts, musts at one moment, targets out of order, or a wish
/// that makes no sense.
Result<BarAnswer> fitBars (const std::vector<BarTarget>& targets, const BarWish& wish);
} // namespace shutterbeat::music
