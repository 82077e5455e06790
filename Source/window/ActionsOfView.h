#pragma once

#include "window/Actions.h"

namespace shutterbeat::window
{
/// What the window shows: parts of the ledger, the band's zoom, light and scale, and what lies over the picture.
void addViewActions (std::vector<Action>& all);
} // namespace shutterbeat::window
