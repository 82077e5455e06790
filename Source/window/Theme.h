#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace shutterbeat::window
{
/// The dyes of one light: the dim room or the day.
struct Theme
{
    juce::Colour ground, panel, raised;
    juce::Colour text, quiet;
    juce::Colour lamp;  ///< selection, play, now
    juce::Colour night; ///< music: cues, bars, takes
    juce::Colour woods; ///< fits, stands, agreed
    juce::Colour rose;  ///< lost, danger
    juce::Colour stock; ///< the film's own base, around its pictures
    juce::Colour paper; ///< what a card is printed on
    juce::Colour ink;   ///< the writing on it
};

const Theme& dimRoom();
const Theme& dayLight();
/// The one in use; window thread only.
const Theme& theme();
void useDay (bool on);

/// Contrast of two colours, 1 to 21 (WCAG 2.1, relative luminance).
double contrast (juce::Colour a, juce::Colour b);
} // namespace shutterbeat::window
