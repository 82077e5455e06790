#pragma once

#include "scan/Match.h"
#include "scan/MatchAnchors.h"
#include "scan/MatchLaid.h"

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <vector>

namespace shutterbeat::scan
{
/// Where a piece of the new print may lie in the old: frame n in frame n + d, d from `low` to `high`, within [first, end).
struct Band
{
    std::int64_t low = 0;
    std::int64_t high = 0;
    std::int64_t first = 0;
    std::int64_t end = 0;
};

/// A piece of the new print, the ways it may be laid over the old one, and where.
struct Question
{
    Piece piece;
    Laying laying;
    std::vector<Band> bands;
};

/// The question that a new frame belongs to; they rise and leave no frame out.
inline const Question& questionAt (const std::vector<Question>& questions, std::int64_t frame)
{
    return *std::prev (std::upper_bound (questions.begin(), questions.end(), frame,
                                         [] (std::int64_t n, const Question& q) { return n < q.piece.first; }));
}

/// The new frame in the middle of the i-th of as many equal parts of a run as there are samples.
inline std::int64_t sampledFrame (const MatchedRun& run, std::int64_t i, std::int64_t samples)
{
    return run.newFirst + (2 * i + 1) * run.frames / (2 * samples);
}

/// The old frame that the cheapest path gives each new frame, or -1: paths follow runs, and every leap, every change from known
/// pictures to new ones and every unlike picture costs.
std::vector<std::int32_t> cheapestPath (const PrintFrames& before, const PrintFrames& after,
                                        const std::vector<Question>& questions);

/// How dear it is to take pictures of that distance for the same, in natural units of likelihood: below zero, that they are.
/// `told`: how much there is to compare, 0 to 1 (see toldBy).
/// `softest`: differences below it are taken for weave, grain and coding.
float costOf (float distance, float told, float softest);

/// Whether a shot begins, or the print ends, at each frame with a plain cut: within the dark nobody knows where one is.
std::vector<bool> plainCuts (const PrintFrames& print);

/// How much a picture of that texture tells in a print that is `dark` below a level: 0 nothing but grain, 1 all there is.
inline float toldBy (float texture, float dark)
{
    return std::clamp ((texture - 0.8F * dark) / (0.5F * dark), 0.0F, 1.0F);
}
} // namespace shutterbeat::scan
