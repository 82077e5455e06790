#include "window/PanelView.h"

namespace shutterbeat::window
{
PanelView::PanelView (Bench& theBench, const Settings& theSettings)
    : bench (theBench)
    , settings (theSettings)
{
    setComponentID ("panel");
    setTitle ("Panel");
    setMouseClickGrabsKeyboardFocus (false);
}

PanelView::~PanelView()
{
    actionScroll.setViewedComponent (nullptr, false);
}

void PanelView::paint (juce::Graphics& g)
{
    g.fillAll (theme().panel);
}

void PanelView::refresh()
{
    const void* reason = bench.panel == Panel::question
                             ? static_cast<const void*> (bench.question ? bench.question->title.c_str() : nullptr)
                             : static_cast<const void*> (bench.job.get());
    if (bench.panel != built || reason != builtFor || (built == Panel::importList && builtRound != bench.lists.round()))
    {
        builtRound = bench.lists.round();
        built = bench.panel;
        builtFor = reason;
        build();
    }
    for (auto& item : items)
        if (auto* typed = dynamic_cast<Field*> (item.component.get()))
            typed->dress();
    repaint();
}

void PanelView::build()
{
    const auto typedFilm = filmField != nullptr ? filmField->getText() : juce::String();
    const auto typedBook = bookField != nullptr ? bookField->getText() : juce::String();
    // The click that led here may come from one of these buttons: they go when it has returned.
    auto old = std::make_shared<std::vector<Item>> (std::move (items));
    items.clear();
    for (auto& item : *old)
        removeChildComponent (item.component.get());
    juce::MessageManager::callAsync ([old] {});
    actionScroll.setViewedComponent (nullptr, false);
    removeChildComponent (&actionScroll);
    first = filmField = bookField = nullptr;
    actionList = nullptr;
    switch (built)
    {
    case Panel::ledger:
        return;
    case Panel::openBook:
        buildOpen();
        break;
    case Panel::newBook:
        buildNew();
        if (typedFilm.isNotEmpty() && filmField != nullptr)
            filmField->setText (typedFilm, false), bookField->setText (typedBook, false);
        break;
    case Panel::findFilm:
        buildFind();
        break;
    case Panel::goTo:
        buildGoTo();
        break;
    case Panel::shotSource:
        buildShotSource();
        break;
    case Panel::playSpeed:
        buildPlaySpeed();
        break;
    case Panel::taps:
        buildTaps();
        break;
    case Panel::sound:
        buildSound();
        break;
    case Panel::saveAs:
        buildSaveAs();
        break;
    case Panel::question:
        buildQuestion();
        break;
    case Panel::history:
        buildHistory();
        break;
    case Panel::actions:
        buildActions();
        break;
    case Panel::importList:
        buildImport();
        break;
    }
    resized();
    if (isShowing())
    {
        if (first != nullptr)
            first->grabKeyboardFocus();
        else if (built == Panel::question)
            for (auto& item : items)
                if (item.component->getWantsKeyboardFocus())
                    return item.component->grabKeyboardFocus();
    }
}

// ---- Parts

Paragraph& PanelView::say (const juce::String& id, const juce::String& words, Face face, float height, bool quiet, int gap)
{
    auto made = std::make_unique<Paragraph> (id);
    made->setWords (words, face, height, quiet);
    auto& paragraph = *made;
    addAndMakeVisible (paragraph);
    items.push_back ({ std::move (made), Flow::block, 0, 0, gap });
    return paragraph;
}

Field& PanelView::field (const juce::String& id, const juce::String& title, const juce::String& value)
{
    auto made = std::make_unique<Field> (id, title);
    auto& it = *made;
    it.setText (value, false);
    it.setTextToShowWhenEmpty (title, theme().quiet);
    it.left = [this] { bench.showPanel (Panel::ledger); };
    addAndMakeVisible (it);
    items.push_back ({ std::move (made), Flow::block, 34, 0, 8 });
    if (first == nullptr)
        first = &it;
    return it;
}

WordButton& PanelView::button (const juce::String& id, const juce::String& words, WordButton::Style style,
                               std::function<void()> act, Flow flow)
{
    auto made = std::make_unique<WordButton> (id, words, style);
    auto& it = *made;
    it.onClick = std::move (act);
    addAndMakeVisible (it);
    items.push_back ({ std::move (made), flow, 34, it.fittingWidth(), 8 });
    return it;
}

void PanelView::choose (const juce::String& title, const juce::String& pattern, Field& into, Choose what)
{
    chooseInto (into, chooser, title, juce::File::getSpecialLocation (juce::File::userHomeDirectory), what, pattern);
}

void PanelView::choiceRow (const juce::String& group, const std::vector<juce::String>& names, int chosen,
                           std::function<void (int)> act)
{
    for (std::size_t i = 0; i < names.size(); ++i)
    {
        const int which = static_cast<int> (i);
        const auto id = group + "." + juce::String (which);
        auto& one = button (id, names[i], WordButton::Style::quiet,
                            [this, group, which, act]
                            {
                                act (which);
                                for (auto& item : items)
                                    if (auto* word = dynamic_cast<WordButton*> (item.component.get());
                                        word != nullptr && word->getComponentID().startsWith (group + "."))
                                        word->setToggleState (word->getComponentID() == group + "." + juce::String (which),
                                                              juce::dontSendNotification);
                            });
        one.setToggleState (which == chosen, juce::dontSendNotification);
        items.back().gap = 2;
        if (i == 0)
            items.back().flow = Flow::block;
    }
}

void PanelView::offerPath (const std::string& path)
{
    if (first != nullptr)
        first->setText (text (path), true);
}

void PanelView::resized()
{
    constexpr int edge = 18;
    const int width = getWidth() - 2 * edge;
    int y = edge, x = edge, rowHeight = 0;
    for (std::size_t i = 0; i < items.size(); ++i)
    {
        auto& item = items[i];
        auto* paragraph = dynamic_cast<Paragraph*> (item.component.get());
        const int height = paragraph != nullptr ? paragraph->heightFor (width) : item.height;
        // A row's first button is a block of its own width; others follow while there is room.
        const bool follows = item.flow == Flow::row && i > 0 && x > edge && x + item.width <= edge + width;
        if (! follows)
        {
            y += rowHeight + (i == 0 ? 0 : items[i - 1].gap);
            x = edge;
            rowHeight = height;
        }
        const int itsWidth = item.width > 0 ? std::min (item.width, width) : width;
        item.component->setBounds (x, y, itsWidth, height);
        x += itsWidth + (item.gap < 8 ? 2 : 8);
        if (item.width == 0)
            x = edge + width;
    }
    if (actionScroll.getParentComponent() == this)
    {
        actionScroll.setBounds (getLocalBounds().withTop (y + rowHeight + 10).reduced (edge - 8, 0).withTrimmedBottom (8));
        if (actionList != nullptr)
            actionList->setSize (actionScroll.getWidth() - 10, actionList->fittingHeight());
    }
}
} // namespace shutterbeat::window
