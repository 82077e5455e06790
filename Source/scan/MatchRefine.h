#pragma once

#include "scan/MatchPath.h"

#include <cstdint>
#include <vector>

namespace shutterbeat::scan
{
/// Registers the prints once more, from pictures of runs that stand, those first that hardly move, so that a frame more or
/// less is no matter; takes it over for every piece.
void registerAgain (const PrintFrames& before, const PrintFrames& after, const std::vector<MatchedRun>& runs,
                    std::vector<Question>& questions);

/// Moves runs by a few frames where their pictures say so once weave is taken out of each, and says how sure the shot and
/// the very frame are. `runs` rise by newFirst and lie within one piece or several that follow each other.
void refine (const PrintFrames& before, const PrintFrames& after, const std::vector<Question>& questions,
             std::vector<MatchedRun>& runs);

/// Film frames between the offsets of runs that may share a border.
constexpr std::int64_t closeBy = 60;

/// How dear it is that a new frame shows the old one `by` frames later, in natural units of likelihood: as costOf, weave taken out.
float frameCost (const PrintFrames& before, const PrintFrames& after, const std::vector<Question>& questions, std::int64_t frame,
                 std::int64_t by);
} // namespace shutterbeat::scan
