#pragma once

#include "overlay/MarkPaint.h"
#include "overlay/Overlay.h"
#include "window/Bench.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <map>
#include <memory>

namespace shutterbeat::window
{
/// Numbers beside the picture where it leaves room, and marks for the conductor over it, as the movie has them too.
class PictureOverlay
{
public:
    explicit PictureOverlay (Bench& theBench)
        : bench (theBench)
    {
    }

    /// `view`: the whole area; `picture`: where the picture lies in it; `scale`: pixels of the screen for one of the view's.
    void draw (juce::Graphics& g, juce::Rectangle<int> view, juce::Rectangle<float> picture, float scale);

private:
    [[nodiscard]] overlay::Readout readout() const;
    void drawPatch (juce::Graphics& g, const overlay::Patch& patch, float scale);

    Bench& bench;
    overlay::Box pictureSeen, viewSeen;
    OverlayWish wishSeen;
    std::unique_ptr<overlay::Overlay> numbers;
    std::unique_ptr<overlay::MarkPaint> marks;
    struct Drawn
    {
        std::shared_ptr<const std::vector<std::uint32_t>> pixels;
        juce::Image image;
    };
    std::map<const void*, Drawn> images; ///< of patches that come again
};
} // namespace shutterbeat::window
