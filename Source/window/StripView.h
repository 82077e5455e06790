#pragma once

#include "window/Bench.h"
#include "window/PictureFeed.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <vector>

namespace shutterbeat::window
{
/// The film running through the gate: single film frames near it, whole shots with their cards further out. What is to
/// come lies below. A click goes there; the wheel steps.
class StripView final : public juce::Component
{
public:
    StripView (Bench& bench, PictureFeed& feed);

    /// Asks for the pictures in view.
    void refresh();
    /// Where the frame in the gate is drawn.
    [[nodiscard]] juce::Rectangle<float> gate() const;

    void paint (juce::Graphics& g) override;
    void resized() override { refresh(); }
    void mouseDown (const juce::MouseEvent& event) override;
    void mouseWheelMove (const juce::MouseEvent& event, const juce::MouseWheelDetails& wheel) override;

private:
    /// A film frame or a whole shot with where it is drawn.
    struct Cell
    {
        film::Position at;
        juce::Rectangle<float> box;
        bool whole = false; ///< a shot, not a frame
        int fromGate = 0;   ///< cells above (below zero) or below the gate
        bool cutAbove = false;
    };
    [[nodiscard]] std::vector<Cell> cells() const;
    void paintFrame (juce::Graphics& g, const Cell& cell);
    void paintShot (juce::Graphics& g, const Cell& cell);
    void paintPicture (juce::Graphics& g, const film::Position& at, juce::Rectangle<float> box, float alpha);
    [[nodiscard]] int framesEachSide() const;
    [[nodiscard]] float frameHeight() const;

    Bench& bench;
    PictureFeed& feed;
    float wheelLeft = 0;
};
} // namespace shutterbeat::window
