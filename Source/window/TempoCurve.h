#pragma once

#include "window/TempoDesk.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace shutterbeat::window
{
/// The error over the tempo: low is good. A dotted line shows what chance alone would give, dots mark the tempos listed, and
/// a click looks at the nearest of them.
class TempoCurve final : public juce::Component, public juce::SettableTooltipClient
{
public:
    explicit TempoCurve (TempoDesk& desk);

    void paint (juce::Graphics& g) override;
    void mouseMove (const juce::MouseEvent& event) override;
    void mouseExit (const juce::MouseEvent& event) override;
    void mouseDown (const juce::MouseEvent& event) override;

private:
    struct Scale
    {
        juce::Rectangle<float> box;
        double lowest = 40, highest = 208, most = 1;
        [[nodiscard]] float x (double tempo) const;
        [[nodiscard]] float y (double value) const;
        [[nodiscard]] double tempo (float x) const;
    };
    [[nodiscard]] Scale scale() const;
    void paintCurve (juce::Graphics& g, const Scale& by, const desk::TempoAnswer& answer) const;
    void paintAxis (juce::Graphics& g, const Scale& by) const;

    TempoDesk& desk;
    std::optional<double> under; ///< the tempo under the pointer
};
} // namespace shutterbeat::window
