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
    /// The second view of the same picture draws what the first has asked for.
    enum class Role
    {
        first,
        second
    };
    PictureView (Bench& bench, PictureFeed& feed, Role role = Role::first);

    /// Another view shows the same picture at this many pixels of the screen: what is asked for is large enough for both.
    void setAlso (int width, int height) { alsoWidth = width, alsoHeight = height; }
    /// Pixels of the screen that this one covers.
    [[nodiscard]] juce::Point<int> pixelsCovered() const;

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
    Role role;
    int alsoWidth = 0, alsoHeight = 0;
    PictureOverlay over;
};
} // namespace shutterbeat::window
