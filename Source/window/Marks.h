#pragma once

#include "spotting/Hit.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace shutterbeat::window
{
/// A hit's own mark: its kind is the shape, its weight the fill (must solid, should half, may outline), and a dot above
/// says that it is still open. Drawn inside `box`, which should be about square.
void drawMark (juce::Graphics& g, juce::Rectangle<float> box, spotting::HitKind kind, spotting::Weight weight, bool open,
               juce::Colour colour, juce::Colour dot);

/// The shape alone, as everywhere else (spotting/MarkShapes.h), inside the box; to be filled by the even-odd rule.
juce::Path markShape (spotting::HitKind kind, juce::Rectangle<float> box);

/// Signs of the window itself.
enum class Sign
{
    play,
    pause,
    stepBack,
    stepOn,
    cutBack,
    cutOn,
    tick,
    brokenTick,
    gate
};
juce::Path signShape (Sign sign, juce::Rectangle<float> box);
} // namespace shutterbeat::window
