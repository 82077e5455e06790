#pragma once

#include "scan/Measures.h"
#include "scan/ScanResult.h"

#include <vector>

namespace shutterbeat::scan
{
/// Cards of a few pictures, as old prints keep them in place of whole titles: up to eight file frames that surely are a card,
/// between two jumps, with something else before and after. Rising by first; their kind says nothing. Neither a flash (which
/// has no writing) nor damage is one.
std::vector<Span> flashTitles (const Measures& measures);
} // namespace shutterbeat::scan
