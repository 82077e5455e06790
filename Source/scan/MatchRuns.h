#pragma once

#include "scan/Match.h"

#include <cstdint>
#include <vector>

namespace shutterbeat::scan
{
/// A path as runs; one ends where the old frames do not follow each other, or at a cut of the new print where they do by
/// chance only.
std::vector<MatchedRun> runsOf (const std::vector<std::int32_t>& path);

/// Tidies runs: those of a frame or two and those of near-black frames alone go; within one new shot no old frame is used
/// twice, unless all of a shot is shown again.
void dropStrays (const PrintFrames& after, std::vector<MatchedRun>& runs);

/// Lets runs go on over near-black and blurred frames beside them, as far as the old shot goes on too.
void extendRuns (const PrintFrames& before, const PrintFrames& after, std::vector<MatchedRun>& runs);

/// A card shows one picture as long as it stands, so that weave and grain alone would tell its frames apart: cards that
/// are the same go together from their heads on, in one run, where runs know no better.
void layCards (const PrintFrames& before, const PrintFrames& after, std::vector<MatchedRun>& runs);

/// Cards of the new print without a counterpart whose neighbours are those of a card of the old print without one.
std::vector<CardSuccessor> cardSuccessors (const PrintFrames& before, const PrintFrames& after,
                                           const std::vector<MatchedRun>& runs);
} // namespace shutterbeat::scan
