#pragma once

#include "window/Actions.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace shutterbeat::window
{
/// The key press that an action's key text names: "Ctrl+Shift+Z", "Left", "[".
juce::KeyPress keyPressOf (const std::string& key);

/// The action that a key press means, or null.
const Action* actionFor (const juce::KeyPress& key);
} // namespace shutterbeat::window
