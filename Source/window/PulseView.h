#pragma once

#include "window/Bench.h"
#include "window/Controls.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace shutterbeat::window
{
/// A bead on a pendulum that passes its mark once a second, and below it every tap so far, early to the left and late to
/// the right, with their median and spread. Nothing in it flashes.
class PulseView final : public juce::Component, private juce::Timer
{
public:
    explicit PulseView (Bench& bench);
    void paint (juce::Graphics& g) override;

    /// "Median 62 ms late; half of all taps within 7 ms of it. 15 taps."
    static std::string measuredText (const play::TapCalibration& taps);

private:
    void timerCallback() override;
    void paintSwing (juce::Graphics& g, juce::Rectangle<float> box);
    void paintTaps (juce::Graphics& g, juce::Rectangle<float> box);

    Bench& bench;
};
} // namespace shutterbeat::window
