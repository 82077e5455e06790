#pragma once

#include "window/Bench.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace shutterbeat::window
{
/// How strongly the picture changes along the reel on screen, with the threshold that makes a cut of it as a line to draw up
/// and down. A click beside the line goes to that picture.
class CutsCurve final : public juce::Component
{
public:
    explicit CutsCurve (Bench& bench);

    void paint (juce::Graphics& g) override;
    void mouseDown (const juce::MouseEvent& event) override;
    void mouseDrag (const juce::MouseEvent& event) override;
    void mouseMove (const juce::MouseEvent& event) override;

private:
    [[nodiscard]] juce::Rectangle<float> plot() const;
    [[nodiscard]] float yOf (double value) const;
    [[nodiscard]] bool onLine (float y) const;

    Bench& bench;
    bool drawing = false;
};
} // namespace shutterbeat::window
