#pragma once

#include <cstddef>
#include <vector>

namespace shutterbeat::lineup
{
/// How well found onsets agree with annotated ones.
struct OnsetScore
{
    std::size_t matched = 0, annotated = 0, found = 0;
    double fMeasure = 0, precision = 0, recall = 0; ///< 0 when either list is empty
};

/// The largest number of pairs within `window` seconds, each onset in one pair at most (MIREX onset detection; Raffel et al.,
/// mir_eval, ISMIR 2014). Both lists rise.
OnsetScore scoreOnsets (const std::vector<double>& annotated, const std::vector<double>& found, double window = 0.050);

/// Strokes less than `apart` seconds after the first of a group become that first one: struck together, they are one onset.
std::vector<double> mergedStrokes (const std::vector<double>& rising, double apart = 0.030);
} // namespace shutterbeat::lineup
