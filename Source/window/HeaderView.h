#pragma once

#include "window/Bench.h"
#include "window/Controls.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <vector>

namespace shutterbeat::window
{
/// The top of the window: menus, the book's name, and how it is to be delivered.
class HeaderView final : public juce::Component
{
public:
    explicit HeaderView (Bench& bench);
    void refresh();
    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    void openMenu (const std::string& name, juce::Component& under);
    void openSpeeds();
    void openRates();

    Bench& bench;
    std::vector<std::unique_ptr<WordButton>> menus;
    WordButton speed, delivery;
};

/// What was done, what is wrong and what to do; stays until something newer comes or it is put away. One line high; words
/// that need more grow it upwards, over the band.
class MessageLine final : public juce::Component, public juce::SettableTooltipClient, private juce::Timer
{
public:
    explicit MessageLine (Bench& bench);
    void refresh();
    /// One line's height, or as many as the words need at that width.
    [[nodiscard]] int heightFor (int width) const;
    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    [[nodiscard]] juce::TextLayout layoutFor (int width) const;
    void paintJob (juce::Graphics& g, juce::Rectangle<float> box) const;
    void timerCallback() override { repaint(); }
    Bench& bench;
    WordButton away, stop;
};

/// What stands in the picture's place before there is a book: what to do next.
class EmptyView final : public juce::Component
{
public:
    explicit EmptyView (Bench& bench);
    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    WordButton open, make;
};
} // namespace shutterbeat::window
