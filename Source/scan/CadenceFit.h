#pragma once

#include "scan/CadencePatterns.h"
#include "scan/Measures.h"

#include <cstdint>
#include <vector>

namespace shutterbeat::scan
{
/// A shot, or a piece of a long one, and which cadence it follows by itself.
struct Stretch
{
    std::int64_t first = 0; ///< file frames whose difference from the one before belongs to it
    std::int64_t end = 0;
    double movement = 0;  ///< the upper quarter of differences, grey levels
    int answer = -1;      ///< index of the pattern it follows beyond doubt
    int likely = -1;      ///< index of the best pattern, however doubtful
    double best = 0;      ///< log likelihood ratio of that pattern against "no repeats"
    bool blended = false; ///< sharpness comes and goes in a beat, as in mixtures of neighbouring pictures
    bool stray = false;   ///< many pictures hardly differ from the one before while others do
    bool plain = false;   ///< moves, and nothing hints at repeats
    double newMean = 0, repeatMean = 0, deviation = 1;
};

/// What a stretch is judged by.
struct Movement
{
    std::vector<double> relative;  ///< log difference from the frame before, less what is usual hereabouts: repeats are below 0
    std::vector<double> nearby;    ///< the same, less what is usual within two frames: for repeats that are few and far between
    std::vector<double> sharpness; ///< log, less what is usual hereabouts
    std::vector<bool> isHead;      ///< first frames of shots: their difference says nothing

    /// What a pattern is judged by in a stretch: a repeat that stands alone shows best against its neighbours, whatever the
    /// movement does further off; where they are many, those neighbours may be repeats themselves, and blends have a beat that
    /// makes every so manieth picture a little more like its neighbour.
    [[nodiscard]] const std::vector<double>& along (const CadencePattern& pattern, const Stretch& stretch) const;
};
Movement movementOf (const Measures& measures, const std::vector<std::int64_t>& heads);

/// Shots, the long ones in pieces, so that a break of phase spoils only its piece; each judged by itself.
std::vector<Stretch> judgedStretches (const Measures& measures, const Movement& movement, const std::vector<std::int64_t>& heads,
                                      const std::vector<CadencePattern>& patterns);

/// The middle value; 0 of none.
double medianOf (std::vector<double> values);
} // namespace shutterbeat::scan
