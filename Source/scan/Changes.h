#pragma once

#include "scan/Measures.h"
#include "scan/ScanResult.h"

#include <cstdint>
#include <vector>

namespace shutterbeat::scan
{
inline constexpr std::int64_t irisFrames = 25; ///< about a second: an iris takes no longer between black and open

/// A change from one shot to the next.
struct Change
{
    std::int64_t frame = 0; ///< first file frame of the new shot
    double strength = 0;    ///< 0 to 1
};

/// Per file frame the measure the threshold cuts: the change at this frame less what is usual round it. 0 to 1; 0 at repeats.
std::vector<float> changeCurve (const Measures& measures);

/// Stretches of at least one file frame with nothing to see (black or white), and flashes, dips and damage, rising by first.
std::vector<Span> lightSpans (const Measures& measures);

/// A dissolve or a wipe, unless a cut in or near it explains it.
struct GradualChange
{
    Span span;
    std::int64_t from = 0; ///< a cut from here to `to` explains it
    std::int64_t to = 0;
};
/// Dissolves and wipes that no black or white stretch explains, rising by first.
std::vector<GradualChange> gradualChanges (const Measures& measures, const std::vector<Span>& light);

/// The fades and irises into and out of the black and white stretches of `light`, rising by first.
std::vector<Span> fadesOf (const Measures& measures, const std::vector<float>& curve, const std::vector<Span>& light);

/// Steps from one picture to the next much larger than those round them, rising by frame, disturbed frames left out: cuts,
/// and jumps in otherwise the same picture.
std::vector<FoundJoin> joinsOf (const Measures& measures, const std::vector<Span>& light);

/// Changes of at least `threshold` that are no flash, dip, damage or edge of a fade; `spans` gains what was told from them.
std::vector<Change> changesAbove (const Measures& measures, const std::vector<float>& curve, double threshold,
                                  std::int64_t shortestBlack, std::vector<Span>& spans);
} // namespace shutterbeat::scan
