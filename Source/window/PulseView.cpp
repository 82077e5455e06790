#include "window/PulseView.h"

#include <cmath>

namespace shutterbeat::window
{
namespace
{
constexpr float scaleMs = 250.0f; // shown to either side
constexpr std::int64_t millisecond = 1'000'000;

float inMs (std::int64_t nanoseconds)
{
    return static_cast<float> (nanoseconds) / static_cast<float> (millisecond);
}
} // namespace

PulseView::PulseView (Bench& theBench)
    : bench (theBench)
{
    setComponentID ("panel.pulse");
    setTitle ("Pulse to tap along with, and the taps");
    setInterceptsMouseClicks (false, false);
    startTimerHz (60);
}

void PulseView::timerCallback()
{
    if (bench.calibration)
        setDescription (text (measuredText (*bench.calibration)));
    repaint();
}

std::string PulseView::measuredText (const play::TapCalibration& taps)
{
    if (taps.count() == 0)
        return "The first three taps find the beat; they are not counted.";
    const auto median = *taps.median();
    const auto late = std::llround (static_cast<double> (std::abs (median)) / static_cast<double> (millisecond));
    std::string words = "Median " + std::to_string (late) + " ms " + (median < 0 ? "early" : "late");
    if (const auto spread = taps.spread())
        words += "; half of all taps within "
                 + std::to_string (std::llround (static_cast<double> (*spread) / static_cast<double> (millisecond))) + " ms of it";
    return words + ". " + std::to_string (taps.count()) + (taps.count() == 1 ? " tap." : " taps.");
}

void PulseView::paintSwing (juce::Graphics& g, juce::Rectangle<float> box)
{
    const auto& colours = theme();
    g.setColour (colours.ground);
    g.fillRoundedRectangle (box, 6.0f);
    // The mark: a gate that the bead passes through.
    const auto gate = juce::Rectangle<float> (0, 0, 34.0f, box.getHeight() - 24.0f).withCentre (box.getCentre());
    g.setColour (colours.quiet);
    g.drawRoundedRectangle (gate, 4.0f, 2.0f);
    if (! bench.calibration)
        return;
    const double beats = static_cast<double> (bench.machineNow() - bench.calibrationStart) / Bench::calibrationInterval;
    if (bench.lessMotion)
    {
        // Without the swing: a figure that changes on the beat.
        const auto count = static_cast<int> (std::floor (beats)) % 4;
        return drawLine (g, juce::String (count < 0 ? count + 5 : count + 1), box, font (Face::numbers, box.getHeight() * 0.5f),
                         colours.lamp, juce::Justification::centred);
    }
    // Through the middle at every beat, to and fro.
    const float reach = box.getWidth() * 0.5f - 24.0f;
    const float x = box.getCentreX() + reach * static_cast<float> (std::sin (beats * juce::MathConstants<double>::pi));
    g.setColour (colours.lamp);
    g.fillEllipse (juce::Rectangle<float> (20.0f, 20.0f).withCentre ({ x, box.getCentreY() }));
}

void PulseView::paintTaps (juce::Graphics& g, juce::Rectangle<float> box)
{
    const auto& colours = theme();
    const auto small = font (Face::words, size::small);
    auto words = box.removeFromBottom (44.0f);
    const auto xOf = [&] (float ms)
    { return box.getCentreX() + juce::jlimit (-1.0f, 1.0f, ms / scaleMs) * (box.getWidth() * 0.5f - 8.0f); };
    const float axis = box.getBottom() - 22.0f;
    g.setColour (colours.quiet);
    g.fillRect (box.getX(), axis, box.getWidth(), 1.0f);
    for (const float ms : { -200.0f, -100.0f, 0.0f, 100.0f, 200.0f })
    {
        g.setColour (colours.quiet);
        g.fillRect (xOf (ms), axis, 1.0f, 5.0f);
        drawLine (g, ms == 0 ? juce::String ("beat") : juce::String (juce::roundToInt (std::abs (ms))) + " ms",
                  { xOf (ms) - 34, axis + 5.0f, 68, 16 }, small, colours.quiet, juce::Justification::centred);
    }
    drawLine (g, "early", box.removeFromTop (16.0f), small, colours.quiet);
    drawLine (g, "late", box.withHeight (16.0f).translated (0, -16.0f), small, colours.quiet, juce::Justification::centredRight);
    if (! bench.calibration)
        return;
    const auto& taps = *bench.calibration;
    if (const auto spread = taps.spread())
    {
        const float left = xOf (inMs (*taps.median() - *spread)), right = xOf (inMs (*taps.median() + *spread));
        g.setColour (colours.lamp.withAlpha (0.2f));
        g.fillRect (left, axis - 34.0f, std::max (2.0f, right - left), 34.0f);
    }
    if (const auto median = taps.median())
    {
        g.setColour (colours.lamp);
        g.fillRect (xOf (inMs (*median)) - 1.0f, axis - 38.0f, 2.0f, 38.0f);
    }
    g.setColour (colours.text);
    for (std::size_t i = 0; i < taps.all().size(); ++i)
        g.fillEllipse (juce::Rectangle<float> (6.0f, 6.0f)
                           .withCentre ({ xOf (inMs (taps.all()[i])), axis - 10.0f - 6.0f * static_cast<float> (i % 4) }));
    drawLine (g, text (measuredText (taps)), words.removeFromBottom (22.0f), font (Face::words, size::usual), colours.text);
}

void PulseView::paint (juce::Graphics& g)
{
    auto box = getLocalBounds().toFloat();
    paintSwing (g, box.removeFromTop (84.0f));
    box.removeFromTop (10.0f);
    paintTaps (g, box);
}
} // namespace shutterbeat::window
