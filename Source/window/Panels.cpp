#include "window/Actions.h"
#include "window/PanelView.h"
#include "window/PulseView.h"

#include <filesystem>

namespace shutterbeat::window
{
/// How far a job has come, with a way to stop it.
class PanelView::Progress final : public juce::Component, private juce::Timer
{
public:
    explicit Progress (std::shared_ptr<Job> which)
        : job (std::move (which))
    {
        setComponentID ("panel.progress");
        setTitle ("Progress");
        startTimerHz (12);
    }
    void paint (juce::Graphics& g) override
    {
        auto box = getLocalBounds().toFloat();
        drawLine (g, text (job->what) + "   " + juce::String (juce::roundToInt (job->fraction * 100)) + " %",
                  box.removeFromTop (22.0f), font (Face::words, size::usual), theme().text);
        box = box.removeFromTop (6.0f);
        g.setColour (theme().raised);
        g.fillRoundedRectangle (box, 3.0f);
        g.setColour (theme().lamp);
        g.fillRoundedRectangle (box.withWidth (box.getWidth() * static_cast<float> (job->fraction.load())), 3.0f);
    }

private:
    void timerCallback() override { repaint(); }
    std::shared_ptr<Job> job;
};

// ---- Panels

void PanelView::buildOpen()
{
    say ("panel.title", "Open a book", Face::strong, size::large);
    auto& path = field ("panel.path", "Path of a book (.shutterbeat)");
    const auto go = [this, &path] { bench.openPath (path.getText().trim().toStdString()); };
    path.entered = go;
    button ("panel.go", "Open", WordButton::Style::main, go);
    button ("panel.choose", "Choose...", WordButton::Style::raised,
            [this, &path] { choose ("Open a book", "*.shutterbeat", path); });
    button ("panel.leave", "Leave it", WordButton::Style::raised, [this] { bench.showPanel (Panel::ledger); });
    items.back().gap = 22;
    if (settings.recent.empty())
        return;
    say ("panel.recent", "Opened before", Face::words, size::small, true, 2);
    for (std::size_t i = 0; i < settings.recent.size(); ++i)
    {
        const auto book = settings.recent[i];
        auto& one = button (
            "panel.recent." + juce::String (static_cast<int> (i)), text (std::filesystem::path (book).filename().string()),
            WordButton::Style::quiet, [this, book] { bench.openPath (book); }, Flow::block);
        one.setTooltip (text (book));
        items.back().gap = 0;
    }
}

void PanelView::buildNew()
{
    say ("panel.title", "New book from a film", Face::strong, size::large);
    if (bench.job)
    {
        items.push_back ({ std::make_unique<Progress> (bench.job), Flow::block, 40, 0, 8 });
        addAndMakeVisible (*items.back().component);
        say ("panel.hint", "The film is looked through once for its cuts, its cards and its cadence of repeats.", Face::words,
             size::small, true);
        button ("panel.stop", "Stop", WordButton::Style::raised, [this] { bench.cancelJob(); });
        return;
    }
    auto& film = field ("panel.film", "Path of the film file");
    filmField = &film;
    button ("panel.chooseFilm", "Choose the film...", WordButton::Style::raised, [this, &film] { choose ("The film", "*", film); });
    items.back().gap = 16;
    auto& book = field ("panel.book", "Path of the book to make");
    bookField = &book;
    film.onTextChange = [&film, &book]
    {
        const auto path = film.getText().trim();
        if (path.isNotEmpty())
            book.setText (text (std::filesystem::path (path.toStdString()).replace_extension (".shutterbeat").string()), false);
    };
    items.back().gap = 16;
    say ("panel.speedHint", "Running speed in film frames a second", Face::words, size::small, true, 2);
    std::vector<juce::String> speeds{ "from its repeats" };
    for (const auto& speed : usualSpeeds())
        speeds.push_back (text (time::shortDecimalText (speed, 2)));
    choiceRow ("panel.speed", speeds, speedChosen, [this] (int which) { speedChosen = which; });
    items.back().gap = 16;
    say ("panel.rateHint", "Final rate", Face::words, size::small, true, 2);
    std::vector<juce::String> rates{ "the film's own" };
    for (const auto& rate : usualRates())
        rates.push_back (text (rate));
    choiceRow ("panel.rate", rates, rateChosen, [this] (int which) { rateChosen = which; });
    items.back().gap = 18;
    film.entered = book.entered = [this] { startNew(); };
    button (
        "panel.go", "Scan and make the book", WordButton::Style::main, [this] { startNew(); }, Flow::block);
    button ("panel.leave", "Leave it", WordButton::Style::raised, [this] { bench.showPanel (Panel::ledger); });
}

void PanelView::startNew()
{
    desk::NewBook wanted;
    wanted.files = { filmField->getText().trim().toStdString() };
    const auto book = bookField->getText().trim().toStdString();
    if (wanted.files.front().empty() || book.empty())
        return bench.complain ("Name the film file first, by its path or with Choose the film.");
    if (speedChosen > 0)
        wanted.running = usualSpeeds()[static_cast<std::size_t> (speedChosen - 1)];
    if (rateChosen > 0)
        if (const auto rate = time::parseRate (usualRates()[static_cast<std::size_t> (rateChosen - 1)]))
            wanted.rate = rate->value;
    bench.startNewBook (wanted, book);
}

void PanelView::buildFind()
{
    say ("panel.title", "Find a missing film", Face::strong, size::large);
    if (bench.missing().empty())
    {
        say ("panel.text", "Every film of this book is where it should be.");
        button ("panel.leave", "Good", WordButton::Style::main, [this] { bench.showPanel (Panel::ledger); });
        return;
    }
    const auto& missing = bench.missing().front();
    say ("panel.text", text (missing.path), Face::numbers, size::small, true);
    say ("panel.why", text (missing.why));
    if (bench.missing().size() > 1)
        say ("panel.more",
             juce::String (static_cast<int> (bench.missing().size()) - 1) + " more are missing. A folder finds all that lie in it.",
             Face::words, size::small, true);
    auto& path = field ("panel.path", "Where the film is now, or a folder to look through");
    const auto go = [this, &path] { bench.relinkMissing (0, path.getText().trim().toStdString()); };
    path.entered = go;
    button ("panel.go", "Use this file", WordButton::Style::main, go);
    button ("panel.choose", "Choose...", WordButton::Style::raised, [this, &path] { choose ("The film", "*", path); });
    button ("panel.chooseFolder", "Choose a folder...", WordButton::Style::raised,
            [this, &path] { choose ("Folder to look through", "*", path, Choose::folder); });
    button ("panel.leave", "Later", WordButton::Style::raised, [this] { bench.showPanel (Panel::ledger); });
}

void PanelView::buildGoTo()
{
    say ("panel.title", "Go to a place", Face::strong, size::large);
    auto& place = field ("panel.place", "Film frame, timecode, feet ...");
    const auto go = [this, &place] { bench.goToTyped (place.getText().trim().toStdString()); };
    place.entered = go;
    button ("panel.go", "Go", WordButton::Style::main, go);
    button ("panel.leave", "Stay here", WordButton::Style::raised, [this] { bench.showPanel (Panel::ledger); });
    items.back().gap = 18;
    say ("panel.hint",
         "1000  film frame\n+24  film frames on from here\n-1.5s  seconds back from here\ntc:01:00:55:14  timecode\n"
         "feet:62+08  feet and frames\nfile:1389  file frame\nedge:3.head+12  from the head of shot 3\n12.5s  seconds\n"
         "r2:film:10  in the second reel",
         Face::numbers, size::small, true);
}

void PanelView::buildPlaySpeed()
{
    say ("panel.title", "Play at one speed", Face::strong, size::large);
    auto& speed = field ("panel.speedTyped", "Film frames a second");
    const auto go = [this, &speed] { bench.paceTyped (speed.getText().trim().toStdString()); };
    speed.entered = go;
    button ("panel.go", "Play at this", WordButton::Style::main, go);
    button ("panel.leave", "Leave it", WordButton::Style::raised, [this] { bench.showPanel (Panel::ledger); });
    items.back().gap = 18;
    say ("panel.hint", "18  film frames a second\n200/11  the same as 18.18\n80ft/min  feet a minute\n13min/1000ft  a reel's time",
         Face::numbers, size::small, true);
    say ("panel.note", "Only playing changes here. The book's running speeds are in the header.", Face::words, size::small, true);
}

void PanelView::buildShotSource()
{
    const auto* shot = bench.cuts.shotHere();
    say ("panel.title", shot == nullptr ? "Where a shot comes from" : "Where shot " + shot->name + " comes from", Face::strong,
         size::large);
    if (shot != nullptr)
    {
        remadeChosen = shot->remade ? 1 : 0;
        choiceRow ("panel.remade", { shot->made ? "made" : "as it is in the print", "remade" }, remadeChosen,
                   [this] (int which) { remadeChosen = which; });
        say ("panel.why", "Why it was made, remade or taken from this print", Face::words, size::small, true);
        auto& reason = field ("panel.reason", "Why it was made, remade or taken from this print", text (shot->reason));
        const auto take = [this, &reason, id = shot->id]
        { bench.cuts.setSource (id, remadeChosen == 1, reason.getText().trim().toStdString()); };
        reason.entered = take;
        button ("panel.go", "Keep it", WordButton::Style::main, take);
    }
    button ("panel.leave", "Leave it", WordButton::Style::raised, [this] { bench.showPanel (Panel::ledger); });
    items.back().gap = 18;
    say ("panel.note", "It stands on the source list, and goes along when the film is recut.", Face::words, size::small, true);
}

void PanelView::buildTaps()
{
    say ("panel.title", "Calibrate your taps", Face::strong, size::large);
    say ("panel.text",
         std::string (bench.lessMotion
                          ? "The figure changes once a second. Press H each time it does, about fifteen times."
                          : "The bead swings once a second. Press H each time it passes the mark, about fifteen times.")
             + " What is measured is taken off every hit that you tap while the film plays.");
    items.push_back ({ std::make_unique<PulseView> (bench), Flow::block, 230, 0, 14 });
    addAndMakeVisible (*items.back().component);
    auto& keep = button ("panel.keep", "Keep this correction", WordButton::Style::main,
                         [this]
                         {
                             if (bench.calibration && bench.calibration->enough())
                                 bench.setTapLate (*bench.calibration->median());
                             else
                                 bench.complain ("Tap a few more times first: press H when the bead passes the mark.");
                         });
    juce::ignoreUnused (keep);
    button ("panel.again", "Start again", WordButton::Style::raised, [this] { bench.startCalibration(); });
    button ("panel.none", "No correction", WordButton::Style::raised, [this] { bench.setTapLate (0); });
    button ("panel.leave", "Leave it", WordButton::Style::raised, [this] { bench.showPanel (Panel::ledger); });
}

void PanelView::buildSaveAs()
{
    say ("panel.title", "Save under another name", Face::strong, size::large);
    auto& path = field ("panel.path", "Path of the book", text (bench.path()));
    const auto go = [this, &path] { bench.saveAs (path.getText().trim().toStdString()); };
    path.entered = go;
    button ("panel.go", "Save", WordButton::Style::main, go);
    button ("panel.choose", "Choose...", WordButton::Style::raised,
            [this, &path] { choose ("Save the book", "*.shutterbeat", path, Choose::newFile); });
    button ("panel.leave", "Leave it", WordButton::Style::raised, [this] { bench.showPanel (Panel::ledger); });
}

void PanelView::buildQuestion()
{
    if (! bench.question)
        return;
    const auto& question = *bench.question;
    say ("panel.title", text (question.title), Face::strong, size::large);
    say ("panel.text", text (question.text), Face::words, size::usual, false, 18);
    for (std::size_t i = 0; i < question.choices.size(); ++i)
    {
        auto& one = button (
            text ("answer." + question.choices[i].id), text (question.choices[i].label),
            i == 0 ? WordButton::Style::main : WordButton::Style::raised, [this, i] { bench.answer (i); }, Flow::block);
        juce::ignoreUnused (one);
    }
}

/// Every state of the book since it was opened, the newest first; a press goes there.
void PanelView::buildHistory()
{
    say ("panel.title", "What was done", Face::strong, size::large);
    if (bench.steps() == nullptr)
        return;
    constexpr std::size_t most = 24;
    const auto& steps = bench.steps()->all();
    const auto from = steps.size() > most ? steps.size() - most : 0;
    for (std::size_t i = steps.size(); i-- > from;)
    {
        auto& one = button (
            "panel.step." + juce::String (static_cast<int> (i)), i == 0 ? juce::String ("as it was opened") : text (steps[i].name),
            WordButton::Style::quiet,
            [this, i]
            {
                bench.goToStep (i);
                bench.showPanel (Panel::ledger);
            },
            Flow::block);
        one.setToggleState (i == bench.steps()->position(), juce::dontSendNotification);
        items.back().gap = 0;
        items.back().height = 28;
    }
    if (from > 0)
        say ("panel.more", juce::String (static_cast<int> (from)) + " earlier steps: Ctrl+Z goes back to them.", Face::words,
             size::small, true);
}

void PanelView::buildActions()
{
    say ("panel.title", "Actions and their keys", Face::strong, size::large);
    auto& search = field ("panel.search", "Find an action");
    auto made = std::make_unique<ActionList> (bench);
    actionList = made.get();
    actionScroll.setViewedComponent (made.release(), true);
    actionScroll.setScrollBarsShown (true, false);
    addAndMakeVisible (actionScroll);
    search.onTextChange = [this, &search]
    {
        actionList->setFilter (search.getText());
        resized();
    };
    search.entered = [this] { actionList->performFirst(); };
}
} // namespace shutterbeat::window
