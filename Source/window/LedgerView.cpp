#include "window/LedgerView.h"

#include "window/Actions.h"

namespace shutterbeat::window
{
namespace
{
struct PageName
{
    LedgerPage page;
    const char *id, *words, *action;
};
constexpr PageName pageNames[] = {
    { LedgerPage::hits, "ledger.hits", "Hits", "view.hits" },
    { LedgerPage::cues, "ledger.cues", "Cues", "view.cues" },
    { LedgerPage::film, "ledger.film", "Film", "view.film" },
    { LedgerPage::tempo, "ledger.tempo", "Tempo", "view.tempo" },
    { LedgerPage::recut, "ledger.recut", "Recut", "view.recut" },
    { LedgerPage::lineUp, "ledger.lineUp", "Line-up", "view.lineUp" },
    { LedgerPage::handOver, "ledger.handOver", "Hand over", "view.handOver" },
};
} // namespace

LedgerView::LedgerView (Bench& theBench, PictureFeed& feed)
    : bench (theBench)
    , spotting (bench)
    , film (bench)
    , tempo (bench)
    , recut (bench, feed)
    , lineUp (bench)
    , handOver (bench)
{
    setComponentID ("ledger");
    setTitle ("Ledger");
    setMouseClickGrabsKeyboardFocus (false);
    for (const auto& name : pageNames)
    {
        auto button = std::make_unique<WordButton> (name.id, name.words, WordButton::Style::column);
        const auto& action = actionNamed (name.action);
        button->setTooltip (text (action.name + " (" + action.key + ")"));
        button->onClick = [this, page = name.page] { bench.showPage (page); };
        addAndMakeVisible (*button);
        pages.push_back (std::move (button));
    }
    for (LedgerPart* part : std::initializer_list<LedgerPart*>{ &spotting, &film, &tempo, &recut, &lineUp, &handOver })
        addChildComponent (part);
}

LedgerPart& LedgerView::partOf (LedgerPage page)
{
    switch (page)
    {
    case LedgerPage::film:
    case LedgerPage::speeds:
    case LedgerPage::prints:
        return film;
    case LedgerPage::tempo:
        return tempo;
    case LedgerPage::recut:
        return recut;
    case LedgerPage::lineUp:
        return lineUp;
    case LedgerPage::handOver:
    case LedgerPage::parcel:
        return handOver;
    case LedgerPage::hits:
    case LedgerPage::cues:
        break;
    }
    return spotting;
}

void LedgerView::refresh()
{
    // Some parts have pages of their own.
    const auto head = bench.page == LedgerPage::speeds || bench.page == LedgerPage::prints ? LedgerPage::film
                      : bench.page == LedgerPage::parcel                                   ? LedgerPage::handOver
                                                                                           : bench.page;
    for (std::size_t i = 0; i < pages.size(); ++i)
        pages[i]->setToggleState (head == pageNames[i].page, juce::dontSendNotification);
    if (! isVisible())
        return;
    auto& part = partOf (bench.page);
    if (shown != &part)
    {
        if (shown != nullptr)
            shown->setVisible (false);
        shown = &part;
        shown->setVisible (true);
        resized();
    }
    shown->refresh();
}

void LedgerView::moved()
{
    if (shown != nullptr && isVisible())
        shown->moved();
}

void LedgerView::renameSelected()
{
    bench.showPage (bench.page == LedgerPage::cues ? LedgerPage::cues : LedgerPage::hits);
    spotting.renameSelected();
}

void LedgerView::noteOnSelected()
{
    const bool cue =
        bench.hasBook() && ! bench.selected().empty() && spotting::cueOf (bench.book(), bench.selected().front()) != nullptr;
    bench.showPage (cue ? LedgerPage::cues : LedgerPage::hits);
    spotting.noteOnSelected();
}

void LedgerView::find()
{
    bench.showPage (bench.page == LedgerPage::cues ? LedgerPage::cues : LedgerPage::hits);
    spotting.find();
}

void LedgerView::resized()
{
    auto box = getLocalBounds();
    auto head = box.removeFromTop (headHeight).reduced (6, 6);
    int width = 0;
    for (const auto& page : pages)
        width += page->fittingWidth();
    const int gap = juce::jlimit (0, 8, (head.getWidth() - width) / static_cast<int> (pages.size()));
    for (const auto& page : pages)
    {
        page->setBounds (head.removeFromLeft (page->fittingWidth()));
        head.removeFromLeft (gap);
    }
    if (shown != nullptr)
        shown->setBounds (box);
}

void LedgerView::paint (juce::Graphics& g)
{
    g.fillAll (theme().panel);
}
} // namespace shutterbeat::window
