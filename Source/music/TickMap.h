#pragma once

#include "music/WrittenTempo.h"

#include <utility>
#include <vector>

namespace shutterbeat::music
{
/// A tempo from a moment on, as it is wanted.
struct TempoFrom
{
    time::Rational seconds; ///< exact, from tick 0; below zero counts as zero
    WrittenTempo tempo;
};

/// Exact seconds to ticks and back through tempos as they are written.
/// A tempo takes effect on a whole tick, which is a little beside the moment it was wanted; every later tick is placed
/// from where that one really sounds, so no error adds up: whatever the number of tempos, a tick is within half a tick
/// of the moment asked for (CASES B34).
class TickMap
{
public:
    /// A tempo on its tick.
    struct Step
    {
        std::int64_t tick = 0;
        time::Rational seconds; ///< when that tick really comes
        WrittenTempo tempo;
    };

    /// `wanted` in any order; of two on one tick the later in the list holds. Where none is at zero, the format's 120
    /// beats a minute hold from there, as a step of their own. Error: a resolution outside 1 to 32767.
    static Result<TickMap> of (std::vector<TempoFrom> wanted, int ticksPerQuarter = 960);
    /// Tempos that stand on their ticks already, the first on tick 0: seconds follow from what is written.
    static TickMap onTicks (const std::vector<std::pair<std::int64_t, WrittenTempo>>& tempos, int ticksPerQuarter);

    [[nodiscard]] int ticksPerQuarter() const { return resolution; }
    /// In order of ticks; the first is on tick 0.
    [[nodiscard]] const std::vector<Step>& steps() const { return theSteps; }
    /// The nearest tick, ties up; what lies before zero gets tick 0.
    [[nodiscard]] std::int64_t tickAt (const time::Rational& seconds) const;
    /// Exact seconds of a tick, 0 or above.
    [[nodiscard]] time::Rational secondsAt (std::int64_t tick) const;

private:
    [[nodiscard]] time::Rational tickLength (const Step& step) const;

    int resolution = 960;
    std::vector<Step> theSteps;
};
} // namespace shutterbeat::music
