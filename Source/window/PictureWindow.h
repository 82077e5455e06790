#pragma once

#include "window/PictureView.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>

namespace shutterbeat::window
{
/// The picture once more in a window of its own: the whole of another screen where there is one, else a plain window that can be
/// moved there. Its keys do what they do in the bench window.
class PictureWindow final : public juce::DocumentWindow
{
public:
    /// `beside` lies on the screen that is not to be covered.
    PictureWindow (Bench& bench, PictureFeed& feed, const juce::Component& beside);
    ~PictureWindow() override;

    std::function<bool (const juce::KeyPress&)> onKey;

    PictureView& picture() { return view; }
    bool keyPressed (const juce::KeyPress& key) override;
    void closeButtonPressed() override;

    /// Where it goes: the first screen that does not hold `beside`; empty when there is only one.
    static juce::Rectangle<int> freeScreen (const juce::Array<juce::Rectangle<int>>& screens, juce::Rectangle<int> beside);

private:
    Bench& bench;
    PictureView view;
};
} // namespace shutterbeat::window
