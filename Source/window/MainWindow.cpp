#include "window/MainWindow.h"

#include "time/Text.h"

#include <cctype>
#include <cstdlib>

namespace shutterbeat::window
{
namespace
{
/// A short word for whoever sits here: what hits are counted under.
std::string personHere()
{
    const char* user = std::getenv ("USER");
    std::string word;
    for (const char c : std::string (user == nullptr ? "" : user))
        if (std::isalnum (static_cast<unsigned char> (c)) != 0)
            word += c;
    return word.empty() ? "me" : word;
}

std::optional<LedgerPage> pageNamed (const std::string& name)
{
    for (const auto& [word, page] : { std::pair{ "hits", LedgerPage::hits },
                                      { "cues", LedgerPage::cues },
                                      { "film", LedgerPage::film },
                                      { "speeds", LedgerPage::speeds },
                                      { "prints", LedgerPage::prints },
                                      { "tempo", LedgerPage::tempo },
                                      { "recut", LedgerPage::recut },
                                      { "lineup", LedgerPage::lineUp },
                                      { "handover", LedgerPage::handOver },
                                      { "parcel", LedgerPage::parcel } })
        if (name == word)
            return page;
    return {};
}
} // namespace

std::string startHelp()
{
    return "Usage: shutterbeat-window [BOOK] [options]\n"
           "Opens the bench window, on a book when one is named.\n\n"
           "  --at PLACE          go to a place: film:1000, tc:01:00:55:14 (needs BOOK)\n"
           "  --show PART         hits, cues, film, speeds, prints, tempo, recut, lineup, handover, parcel; or live for a\n"
           "                      showing (needs BOOK)\n"
           "  --size WxH          size of the window, such as 1280x800\n"
           "  --theme day|dim     colours for the day or the dim room\n"
           "  --scale PERCENT     100, 125, 150 or 200\n"
           "  --keys FILE.pdf     write a sheet of all keys and end; needs no display\n"
           "  --help              this text\n\n"
           "Example: shutterbeat-window film.shutterbeat --at tc:01:00:55:14\n";
}

Result<StartWish> readStartWish (const std::vector<std::string>& words)
{
    StartWish wish;
    for (std::size_t i = 0; i < words.size(); ++i)
    {
        const auto& word = words[i];
        const bool option = time::startsWith (word, "--");
        if (! option)
        {
            if (! wish.book.empty())
                return usageError (word, "only one book can be opened at a time");
            wish.book = word;
            continue;
        }
        if (i + 1 >= words.size())
            return usageError (word, "needs a value; see --help");
        const auto& value = words[++i];
        if (word == "--at")
            wish.at = value;
        else if (word == "--show" && value == "live")
            wish.live = true;
        else if (word == "--show" && pageNamed (value))
            wish.page = pageNamed (value);
        else if (word == "--size")
        {
            const auto parts = time::splitAt (value, 'x');
            const auto w = parts.size() == 2 ? time::parseWhole (parts[0]) : std::nullopt;
            const auto h = parts.size() == 2 ? time::parseWhole (parts[1]) : std::nullopt;
            if (! w || ! h || *w < 960 || *h < 600 || *w > 16000 || *h > 16000)
                return usageError (word + " " + value, "a size is WIDTHxHEIGHT, from 960x600 on");
            wish.width = static_cast<int> (*w);
            wish.height = static_cast<int> (*h);
        }
        else if (word == "--theme" && (value == "day" || value == "dim"))
            wish.day = value == "day";
        else if (word == "--scale" && (value == "100" || value == "125" || value == "150" || value == "200"))
            wish.scale = static_cast<int> (*time::parseWhole (value));
        else
            return usageError (word + " " + value, "is not known; see --help");
    }
    return wish;
}

MainWindow::MainWindow (const StartWish& wish)
    : juce::DocumentWindow ("Shutterbeat", theme().ground, juce::DocumentWindow::allButtons, false)
    , settings (loadSettings())
    , theBench (clock, runner, personHere())
    , sound (clock, theBench)
{
    setComponentID ("window");
    // A screen that says late that the window has the keyboard must not take it from a field that is being typed in.
    setWantsKeyboardFocus (false);
    if (wish.day)
        settings.day = *wish.day;
    if (wish.scale)
        settings.scalePercent = *wish.scale;
    if (wish.width > 0)
    {
        remember = false;
        // The size is asked for in pixels of the screen.
        settings.width = wish.width * 100 / settings.scalePercent;
        settings.height = wish.height * 100 / settings.scalePercent;
    }
    setUsingNativeTitleBar (true);
    setResizable (true, false);
    setResizeLimits (960, 600, 32000, 32000);
    view = std::make_unique<BenchView> (theBench, settings);
    view->setSize (settings.width, settings.height);
    setContentNonOwned (view.get(), true);
    theBench.onQuit = []
    {
        if (auto* app = juce::JUCEApplicationBase::getInstance())
            app->quit();
    };
    if (! wish.book.empty())
    {
        theBench.openPath (juce::File::getCurrentWorkingDirectory().getChildFile (text (wish.book)).getFullPathName().toStdString(),
                           [this, wish]
                           {
                               if (! wish.at.empty())
                                   theBench.goToTyped (wish.at);
                               if (wish.page)
                                   theBench.showPage (*wish.page);
                               if (wish.live)
                                   theBench.live.open();
                           });
    }
    if (wish.width > 0)
        setTopLeftPosition (0, 0);
    else
        centreWithSize (getWidth(), getHeight());
    addToDesktop();
    setVisible (true);
    view->grabKeyboardFocus();
    view->onTick = [this] { sound.follow(); };
    sound.open();
    // Where no window manager hands over the keyboard, it can be taken only once the window is on the screen.
    constexpr int untilShown = 300; // milliseconds
    juce::Timer::callAfterDelay (untilShown,
                                 [shown = juce::Component::SafePointer<BenchView> (view.get())]
                                 {
                                     if (shown != nullptr && juce::Component::getCurrentlyFocusedComponent() == nullptr)
                                         shown->grabKeyboardFocus();
                                 });
}

MainWindow::~MainWindow()
{
    if (remember && view->getWidth() > 0 && ! isFullScreen())
    {
        settings.width = view->getWidth();
        settings.height = view->getHeight();
        saveSettings (settings);
    }
    if (juce::Desktop::getInstance().getKioskModeComponent() == this)
        juce::Desktop::getInstance().setKioskModeComponent (nullptr);
    theBench.cancelJob();
    view->onTick = {};
    clearContentComponent();
    view.reset();
}

bool MainWindow::keyPressed (const juce::KeyPress& key)
{
    return view->keyPressed (key) || juce::DocumentWindow::keyPressed (key);
}

void MainWindow::closeButtonPressed()
{
    theBench.quit();
}
} // namespace shutterbeat::window
