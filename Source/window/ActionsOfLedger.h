#pragma once

#include "window/Actions.h"

#include <vector>

namespace shutterbeat::window
{
/// Appends what the parts of the ledger can do, hits and cues apart: shots and cards, recut, tempo, handing over.
void addLedgerActions (std::vector<Action>& all);
} // namespace shutterbeat::window
