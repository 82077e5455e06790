#include "window/PictureWindow.h"

namespace shutterbeat::window
{
PictureWindow::PictureWindow (Bench& theBench, PictureFeed& feed, const juce::Component& beside)
    : juce::DocumentWindow ("Shutterbeat: picture", juce::Colours::black, juce::DocumentWindow::allButtons, false)
    , bench (theBench)
    , view (theBench, feed, PictureView::Role::second)
{
    setComponentID ("pictureWindow");
    setTitle ("Picture on a second screen");
    juce::Array<juce::Rectangle<int>> screens;
    for (const auto& display : juce::Desktop::getInstance().getDisplays().displays)
        screens.add (display.totalArea);
    const auto whole = freeScreen (screens, beside.getScreenBounds());
    setContentNonOwned (&view, false);
    if (whole.isEmpty())
    {
        setUsingNativeTitleBar (true);
        setResizable (true, false);
        setResizeLimits (320, 240, 32000, 32000);
        centreWithSize (800, 600);
    }
    else
    {
        setTitleBarHeight (0);
        setBounds (whole);
    }
    addToDesktop();
    setVisible (true);
}

PictureWindow::~PictureWindow()
{
    clearContentComponent();
}

juce::Rectangle<int> PictureWindow::freeScreen (const juce::Array<juce::Rectangle<int>>& screens, juce::Rectangle<int> beside)
{
    for (const auto& screen : screens)
        if (! screen.contains (beside.getCentre()))
            return screen;
    return {};
}

bool PictureWindow::keyPressed (const juce::KeyPress& key)
{
    if (key == juce::KeyPress::escapeKey)
    {
        closeButtonPressed();
        return true;
    }
    return onKey && onKey (key);
}

void PictureWindow::closeButtonPressed()
{
    bench.setPictureApart (false);
}
} // namespace shutterbeat::window
