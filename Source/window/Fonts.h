#pragma once

#include "window/FontData.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace shutterbeat::window
{
/// The sizes on screen at 100 %.
namespace size
{
inline constexpr float small = 12.0f, usual = 14.0f, large = 20.0f, clock = 44.0f;
}

/// A font from the files inside the program; `height` in points of the window (CSS pixels at 100 %).
juce::Font font (Face face, float height);

/// Width of a line of text.
float textWidth (const juce::Font& font, const juce::String& text);

/// UTF-8 to JUCE's string.
inline juce::String text (const std::string& utf8)
{
    return juce::String::fromUTF8 (utf8.data(), static_cast<int> (utf8.size()));
}
} // namespace shutterbeat::window
