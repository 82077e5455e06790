#pragma once

#include "scan/MatchAnchors.h"
#include "scan/MatchPath.h"

#include <vector>

namespace shutterbeat::scan
{
/// For every piece of the new print how it lies over the old one and where its frames may be.
std::vector<Question> questionsOf (const PrintFrames& before, const PrintFrames& after, const std::vector<Piece>& newPieces,
                                   const std::vector<Piece>& oldPieces);

/// Whether most of the pieces are seen from behind.
bool mostlyMirrored (const std::vector<Question>& questions);
} // namespace shutterbeat::scan
