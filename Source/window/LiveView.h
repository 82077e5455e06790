#pragma once

#include "window/Bench.h"

#include <juce_audio_devices/juce_audio_devices.h>
#include <juce_gui_basics/juce_gui_basics.h>

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

namespace shutterbeat::window
{
/// The whole screen for who plays at a showing: what comes next, large and dim, in how many seconds. Nothing pops up; any key,
/// mouse button, MIDI note or pedal can be the tap.
class LiveView final : public juce::Component, private juce::Timer, private juce::MidiInputCallback
{
public:
    explicit LiveView (Bench& bench);
    ~LiveView() override;

    void paint (juce::Graphics& g) override;
    void visibilityChanged() override;
    void mouseDown (const juce::MouseEvent& event) override;
    /// A key while the showing is open; always taken. press: when it went down, nanoseconds of the steady clock, where that is
    /// known; again: it is held and comes once more.
    void key (const juce::KeyPress& key, std::optional<std::int64_t> press, bool again);

private:
    void timerCallback() override { repaint(); }
    void handleIncomingMidiMessage (juce::MidiInput* source, const juce::MidiMessage& message) override;
    void listen (bool on);
    void paintNext (juce::Graphics& g, juce::Rectangle<float> box, double now);
    void paintComing (juce::Graphics& g, juce::Rectangle<float> box, double now);
    void paintFoot (juce::Graphics& g, juce::Rectangle<float> box, double now);
    void paintLetters (juce::Graphics& g, juce::Rectangle<float> box);

    Bench& bench;
    juce::KeyPress tapKey{ juce::KeyPress::spaceKey };
    std::vector<std::unique_ptr<juce::MidiInput>> inputs;
    std::shared_ptr<LiveView*> here = std::make_shared<LiveView*> (this); ///< null when this has gone; window thread only
};
} // namespace shutterbeat::window
