#pragma once

#include "window/BenchView.h"
#include "window/SoundDesk.h"
#include "window/ThreadRunner.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace shutterbeat::window
{
/// How the window was asked to start.
struct StartWish
{
    std::string book;
    std::string at;                 ///< a place to go to
    std::optional<LedgerPage> page; ///< what the ledger shows
    bool live = false;              ///< the live showing, at once
    int width = 0, height = 0;
    std::optional<bool> day;
    std::optional<int> scale;
};

/// Reads the command line. Error: an option it does not know, or one without its value.
Result<StartWish> readStartWish (const std::vector<std::string>& words);
/// What --help prints.
std::string startHelp();

/// The window on the desktop, with its bench.
class MainWindow final : public juce::DocumentWindow
{
public:
    explicit MainWindow (const StartWish& wish);
    ~MainWindow() override;
    void closeButtonPressed() override;
    /// Keys that come while nothing in the window has the keyboard are the bench's.
    bool keyPressed (const juce::KeyPress& key) override;

    Bench& bench() { return theBench; }

private:
    Settings settings;
    bool remember = true;
    play::SteadyClock clock;
    ThreadRunner runner;
    Bench theBench;
    SoundDesk sound;
    std::unique_ptr<BenchView> view;
};
} // namespace shutterbeat::window
