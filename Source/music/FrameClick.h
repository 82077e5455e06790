#pragma once

#include "time/Rational.h"

#include <string>
#include <string_view>

namespace shutterbeat::music
{
/// A tempo as click books have it: frames and eighths of a frame from beat to beat, "12-4" (handbook 4.1).
struct FrameClick
{
    std::int64_t eighths = 96; ///< 12-0 is 96; above zero

    friend auto operator<=> (const FrameClick&, const FrameClick&) = default;
};

/// Reads "13-0" or "13". Error: not a click, eighths above 7, zero, or 1000 frames and more.
Result<FrameClick> parseClick (std::string_view text);
/// "13-0".
std::string clickText (const FrameClick& click);

/// Exact: 60 * frames a second / (F + e/8).
time::Rational beatsPerMinute (const FrameClick& click, const time::Rational& framesPerSecond);
/// Exact seconds from beat to beat.
time::Rational secondsPerBeat (const FrameClick& click, const time::Rational& framesPerSecond);
/// The click whose beats a minute come nearest; of two as near, the faster. Never below one eighth.
FrameClick nearestClick (const time::Rational& beatsPerMinute, const time::Rational& framesPerSecond);
} // namespace shutterbeat::music
