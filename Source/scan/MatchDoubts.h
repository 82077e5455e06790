#pragma once

#include "scan/MatchPath.h"

#include <vector>

namespace shutterbeat::scan
{
/// Where two runs meet within a dissolve or a fade, and the pictures hardly say which of them a few frames belong to, those frames
/// become a run of their own that is in doubt as to its frames (see doubtfulFrame). Of a plain cut there is nothing to doubt, nor
/// of frames that show nothing, or the same picture either way.
void doubtBorders (const PrintFrames& before, const PrintFrames& after, const std::vector<Question>& questions,
                   std::vector<MatchedRun>& runs);
} // namespace shutterbeat::scan
