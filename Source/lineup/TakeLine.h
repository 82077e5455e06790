#pragma once

#include "lineup/Onsets.h"

#include <functional>
#include <vector>

namespace shutterbeat::lineup
{
/// How a sound's onsets lie against the beats it was to be played to: heard = first + late + ratio (written - first), where
/// `first` is the first beat. All times are seconds from the sound's sample 0.
struct TakeLine
{
    double late = 0;                      ///< seconds at the first beat; above zero is later than written
    double ratio = 1;                     ///< above one is slower than written
    double lateError = 0, ratioError = 0; ///< one standard error; the larger of the usual one and a jackknife over six blocks
    double scatter = 0;                   ///< seconds: standard deviation of the matched onsets around the line
    std::size_t matched = 0;              ///< onsets within 40 ms of the line
    std::size_t beats = 0;                ///< beats that lie inside the sound
    double share = 0;                     ///< matched, of beats or onsets, whichever are fewer
    double chance = 0;                    ///< what that share would be of onsets that know nothing of the beats
    double bend = 0;                      ///< seconds: the furthest that the middle of a sixth of the take lies off the line
    double score = 0;                     ///< to compare lines of one take: matches that lie close count more, far offsets less

    [[nodiscard]] double at (double first, double written) const { return first + late + ratio * (written - first); }
};

/// What lines are looked for.
struct LineSearch
{
    double furthest = 2.5;                  ///< seconds early or late at the first beat
    double slowest = 1.36, fastest = 0.735; ///< ratios
    std::function<bool (double)> goOn;      ///< told the fraction done; false stops
};

/// Lines that the onsets lie along, the best first; each differs from all before it by more than 30 ms somewhere. Empty when
/// there are fewer than eight beats or onsets, or the search was stopped.
std::vector<TakeLine> linesOf (const std::vector<Onset>& onsets, const std::vector<double>& beats, double soundLength,
                               const LineSearch& search = {});

/// One line found close to a first guess: onsets matched within 120, then 80, 50 and 40 ms, a line laid through them in which far
/// ones count less (Huber, 15 ms).
TakeLine lineNear (const std::vector<Onset>& onsets, const std::vector<double>& beats, double soundLength, double late,
                   double ratio);

/// The same with the ratio held at one: a constant offset. lateError is then that of the offset alone.
TakeLine offsetNear (const std::vector<Onset>& onsets, const std::vector<double>& beats, double soundLength, double late);
} // namespace shutterbeat::lineup
