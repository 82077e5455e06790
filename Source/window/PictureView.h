#pragma once

#include "window/Bench.h"
#include "window/PictureFeed.h"
#include "window/PictureOverlay.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace shutterbeat::window
{
/// The picture on screen, at its own shape and as large as it goes.
class PictureView final : public juce::Component
{
public:
    PictureView (Bench& bench, PictureFeed& feed);

    /// Asks for the picture to show and those after it.
    void refresh();
    /// True when, at the last refresh, the wanted picture was still being decoded and an older one stood in for it.
    [[nodiscard]] bool late() const { return isLate; }
    /// Lets go of the last picture: the films are others now.
    void forget() { held = {}; }
    /// Where a picture of these pixels is drawn: as large as it goes, its shape kept.
    [[nodiscard]] juce::Rectangle<float> fitted (int width, int height) const;
    void paint (juce::Graphics& g) override;
    void resized() override { refresh(); }

private:
    void paintCard (juce::Graphics& g, const film::Shot& shot);
    void paintOver (juce::Graphics& g, juce::Rectangle<float> on);
    [[nodiscard]] float pixels() const;

    Bench& bench;
    PictureFeed& feed;
    juce::Image held; ///< the last one shown
    bool isLate = false;
    PictureOverlay over;
};
} // namespace shutterbeat::window
