#pragma once

#include "window/BandView.h"
#include "window/Bench.h"
#include "window/HeaderView.h"
#include "window/KeyWatch.h"
#include "window/LedgerView.h"
#include "window/LiveView.h"
#include "window/PanelView.h"
#include "window/PictureView.h"
#include "window/PictureWindow.h"
#include "window/ReadoutView.h"
#include "window/StripView.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>

namespace shutterbeat::window
{
/// All of the window: gate and strip, picture, band, ledger. Holds the keyboard for the transport.
class BenchView final : public juce::Component, public juce::FileDragAndDropTarget, private juce::Timer
{
public:
    BenchView (Bench& bench, Settings& settings);
    ~BenchView() override;

    /// After each tick of the clock.
    std::function<void()> onTick;
    /// Everything that shows the bench looks at it again.
    void refresh();

    void paint (juce::Graphics& g) override;
    void resized() override;
    bool keyPressed (const juce::KeyPress& key) override;
    bool keyStateChanged (bool isKeyDown) override;
    /// The view has come onto an X window: its keys are listened to from now on.
    void parentHierarchyChanged() override;
    void lookAndFeelChanged() override { repaint(); }

    bool isInterestedInFileDrag (const juce::StringArray& files) override;
    void filesDropped (const juce::StringArray& files, int x, int y) override;

private:
    void timerCallback() override;
    void pictureChanged();
    void wantShots();
    void applySettings();
    void showApart();
    void lookAtKeys();
    [[nodiscard]] bool isDown (const juce::KeyPress& key) const;

    Bench& bench;
    Settings& settings;
    Look look;
    PictureFeed feed;
    HeaderView header;
    StripView strip;
    PictureView picture;
    std::unique_ptr<PictureWindow> apart; ///< the picture on a second screen
    EmptyView empty;
    ReadoutView readout;
    BandView band;
    LedgerView ledger;
    PanelView panel;
    MessageLine message;
    LiveView live;
    juce::TooltipWindow tooltips;
    bool ledgerSeen = true, filmSeen = false, wholeSeen = false, liveSeen = false,
         soundsSeen = false; ///< what the lay-out was made for
    KeyWatch keyWatch;
    unsigned long watched = 0;        ///< the X window whose keys are listened to
    juce::KeyPress crawlKey, lastKey; ///< held down now; not valid: none
};
} // namespace shutterbeat::window
