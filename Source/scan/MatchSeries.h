#pragma once

#include "scan/MatchPath.h"

#include <cstdint>
#include <vector>

namespace shutterbeat::scan
{
/// How even the weave of a run's pictures is under each offset, in natural units of likelihood (lower is likelier), the
/// offsets from -`farthest` to `farthest` film frames beside the run's own. Where the camera moves, pictures an offset away
/// lie elsewhere, by as much as it moved meanwhile; laid over a wrong neighbour a print seems to leap where the camera starts,
/// stops or shakes, over the right one only its own weave is left. Unlike the likeness of pictures this is not led astray by
/// a coding that lets what moves lag behind. All 0 where too few pictures tell.
std::vector<float> stepCosts (const PrintFrames& before, const PrintFrames& after, const std::vector<Question>& questions,
                              const MatchedRun& run, std::int64_t farthest);

/// How badly the contrast of old pictures explains that of new ones under each offset, likewise: shots that fade in and out
/// hardly move meanwhile.
std::vector<float> lightCosts (const PrintFrames& before, const PrintFrames& after, const MatchedRun& run, std::int64_t farthest);
} // namespace shutterbeat::scan
