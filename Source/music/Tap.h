#pragma once

#include "time/Rational.h"

#include <optional>
#include <vector>

namespace shutterbeat::music
{
/// What somebody tapped.
struct Tapped
{
    double secondsPerBeat = 0;
    double firstBeat = 0; ///< seconds of the beat nearest to the first tap kept, by the line through all of them
    std::size_t taps = 0; ///< taps that count
    double spread = 0;    ///< standard deviation of the taps from that line, seconds

    [[nodiscard]] double beatsPerMinute() const { return 60 / secondsPerBeat; }
};

/// Tempo and phase from tap times in seconds, in order. Only the last run counts: a gap of over 2.5 beats, or over 3 s,
/// begins a new one; a missed tap is bridged. The line through the taps is fitted by least squares, so that every tap
/// helps. Nothing for fewer than two taps in the run.
std::optional<Tapped> tappedTempo (const std::vector<double>& seconds);
} // namespace shutterbeat::music
