#pragma once

#include "time/Rational.h"

#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::music
{
/// A moment that the music should strike. Times are seconds, from any one origin; fitting is done in floating point,
/// good to a nanosecond.
struct FitTarget
{
    double seconds = 0; ///< picture and lead
    double weight = 1;  ///< above zero
    double early = .04; ///< limit before it, seconds
    double late = .08;  ///< limit after it
    bool must = false;  ///< the limits bind
};

/// What makes one fit better than another.
enum class FitMeasure
{
    largest, ///< the largest weight times error, seconds
    squares, ///< sum of weight times error squared
    beyond   ///< sum of weight times what lies beyond the limits, seconds
};

/// What is asked of a tempo.
struct FitWish
{
    double lowest = 40, highest = 208; ///< beats a minute
    double step = .01;                 ///< of the curve
    FitMeasure measure = FitMeasure::beyond;
    double grid = 1;              ///< beats between places a hit may fall on: 1, or 0.5 for half beats
    std::optional<double> start;  ///< seconds of a beat when it is fixed; none: the best start is found
    std::vector<double> dearness; ///< strong beats preferred: seconds added to a hit on each grid place of the bar; empty: none
};

/// The best start at one tempo.
struct FitPoint
{
    double beatsPerMinute = 0;
    double start = 0;                                       ///< seconds of the first beat (with dearness: bar start) at or after 0
    double value = std::numeric_limits<double>::infinity(); ///< of the measure; infinite where a must cannot be met

    [[nodiscard]] bool fits() const { return value < std::numeric_limits<double>::infinity(); }
};

/// Error: a range, step, grid or target that makes no sense, or dearness with a measure other than beyond.
Result<Done> checkFit (const std::vector<FitTarget>& targets, const FitWish& wish);

/// The exact best start for every tempo of the range: never worse than any other start, whatever the step.
/// Time grows nearly as the number of targets. Error: as checkFit.
Result<std::vector<FitPoint>> tempoCurve (const std::vector<FitTarget>& targets, const FitWish& wish);

/// The `count` best tempos of a curve, best first: its valleys, each polished beyond the grid to the exact optimum of its
/// neighbourhood (tempo and start together, beat numbers kept). Where several tempos next to each other are as good by the
/// measure, the one with the least squares of errors stands for them.
std::vector<FitPoint> bestTempos (const std::vector<FitTarget>& targets, const FitWish& wish, const std::vector<FitPoint>& curve,
                                  std::size_t count);

/// Where a target falls at a tempo and start.
struct Landing
{
    double beat = 0;    ///< grid places counted in beats from `start`
    double late = 0;    ///< seconds the music strikes after the target; below zero early
    bool within = true; ///< inside its limits
};
std::vector<Landing> landingsOf (const std::vector<FitTarget>& targets, const FitWish& wish, const FitPoint& point);

/// What chance alone would give at a tempo: the mean best value for as many targets strewn at random over the same span,
/// musts not binding. Always the same numbers. `tempos` in any order.
std::vector<double> chanceLine (const std::vector<FitTarget>& targets, const FitWish& wish, const std::vector<double>& tempos);

/// The part of random target sets of this size that some tempo of the range puts within all limits: near 1, a fit means
/// nothing. Always the same number.
double chanceOfFit (const std::vector<FitTarget>& targets, const FitWish& wish);

/// Why no tempo of the range meets all musts: indices of the target or the two that cannot be met together; or one without
/// which the others could. Empty when something fits, or when no single one is to blame.
struct Obstacle
{
    std::vector<std::size_t> targets;
    bool alone = false; ///< they cannot be met whatever the others; else leaving the one out would help
};
std::optional<Obstacle> obstacleTo (const std::vector<FitTarget>& targets, const FitWish& wish);
} // namespace shutterbeat::music
