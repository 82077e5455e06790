#pragma once

#include "window/Actions.h"

#include <vector>

namespace shutterbeat::window
{
/// Appends what is heard and what is sent: device, mute, click, timecode.
void addSoundActions (std::vector<Action>& all);
} // namespace shutterbeat::window
