#pragma once

#include <optional>
#include <vector>

namespace shutterbeat::lineup
{
/// A place that one performance strikes: where in the sound, and where the picture wants it.
struct Stroke
{
    double heard = 0;  ///< seconds after the sound's start
    double wanted = 0; ///< seconds of picture + lead after where the sound starts in that delivery
};

/// The one factor that mends a delivery: the sound, made `factor` times as long from its start on.
struct Mending
{
    double factor = 1;
    double worst = 0;  ///< seconds that the worst place is then off
    double before = 0; ///< the same as it is
};

/// The factor for which the worst place is least off; nothing without a place after the start of the sound.
std::optional<Mending> mendingOf (const std::vector<Stroke>& strokes);
} // namespace shutterbeat::lineup
