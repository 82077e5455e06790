#include "window/LedgerView.h"

#include "play/Reels.h"

#include <algorithm>

namespace shutterbeat::window
{
/// One line of the list: takes clicks and tells assistive technology what it is.
class LedgerView::Row final : public juce::Component
{
public:
    explicit Row (LedgerView& owner)
        : ledger (owner)
    {
        setMouseClickGrabsKeyboardFocus (false);
    }

    void show (int which)
    {
        row = which;
        setComponentID ("row-" + text (ledger.idOfRow (row)));
        setTitle (ledger.accessibleName (row));
        repaint();
    }
    [[nodiscard]] int index() const { return row; }

    void paint (juce::Graphics& g) override
    {
        if (row < 0 || row >= ledger.rowCount())
            return;
        const auto& colours = theme();
        const auto box = getLocalBounds().toFloat();
        const bool chosen = ledger.bench.isSelected (ledger.idOfRow (row));
        if (chosen)
        {
            g.setColour (colours.raised);
            g.fillRoundedRectangle (box.reduced (2.0f, 1.0f), 4.0f);
            g.setColour (colours.lamp);
            g.drawRoundedRectangle (box.reduced (2.5f, 1.5f), 4.0f, 1.5f);
        }
        else if (isMouseOver())
        {
            g.setColour (colours.raised.withAlpha (0.5f));
            g.fillRoundedRectangle (box.reduced (2.0f, 1.0f), 4.0f);
        }
        if (row == ledger.nowRow && ! ledger.passedAt.empty())
        {
            g.setColour (colours.lamp);
            g.fillPath (signShape (Sign::play, { 1.0f, box.getCentreY() - 4.0f, 7.0f, 8.0f }));
        }
        const auto index = ledger.order[static_cast<std::size_t> (row)];
        if (ledger.bench.page == LedgerPage::hits)
            ledger.paintHit (g, index, box, chosen);
        else
            ledger.paintCue (g, index, box, chosen);
    }
    void mouseEnter (const juce::MouseEvent&) override { repaint(); }
    void mouseExit (const juce::MouseEvent&) override { repaint(); }
    void mouseDown (const juce::MouseEvent& event) override { ledger.pressedRow (row, event.mods); }
    void mouseDoubleClick (const juce::MouseEvent&) override
    {
        if (ledger.bench.onRename)
            ledger.bench.onRename();
    }

    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override
    {
        return std::make_unique<RowHandler> (*this);
    }

private:
    class RowHandler final : public juce::AccessibilityHandler
    {
    public:
        explicit RowHandler (Row& which)
            : AccessibilityHandler (which, juce::AccessibilityRole::listItem,
                                    juce::AccessibilityActions().addAction (juce::AccessibilityActionType::press,
                                                                            [&which] { which.ledger.pressedRow (which.row, {}); }))
            , line (which)
        {
        }
        juce::AccessibleState getCurrentState() const override
        {
            auto state = AccessibilityHandler::getCurrentState().withSelectable();
            return line.ledger.bench.isSelected (line.ledger.idOfRow (line.row)) ? state.withSelected() : state;
        }

    private:
        Row& line;
    };

    LedgerView& ledger;
    int row = -1;
};

LedgerView::LedgerView (Bench& theBench)
    : bench (theBench)
    , hitsPage ("ledger.hits", "Hits", WordButton::Style::quiet)
    , cuesPage ("ledger.cues", "Cues", WordButton::Style::quiet)
{
    setComponentID ("ledger");
    setTitle ("Ledger");
    list.setComponentID ("ledger.list");
    list.setTitle ("Hits and cues");
    list.setMouseClickGrabsKeyboardFocus (false);
    setMouseClickGrabsKeyboardFocus (false);
    list.setInterceptsMouseClicks (false, true);
    addAndMakeVisible (list);
    addAndMakeVisible (hitsPage);
    addAndMakeVisible (cuesPage);
    hitsPage.onClick = [this] { bench.page = LedgerPage::hits, bench.showPanel (Panel::ledger); };
    cuesPage.onClick = [this] { bench.page = LedgerPage::cues, bench.showPanel (Panel::ledger); };
    const std::pair<const char*, HitOrder> columns[] = {
        { "Time", HitOrder::time }, { "Label", HitOrder::label }, { "Kind", HitOrder::kind }, { "Weight", HitOrder::weight }
    };
    for (const auto& [words, by] : columns)
    {
        auto button = std::make_unique<WordButton> (juce::String ("ledger.order.") + words, words, WordButton::Style::column);
        button->setTooltip (juce::String ("Sort by ") + juce::String (words).toLowerCase());
        button->onClick = [this, by = by]
        {
            bench.order = by;
            bench.showPanel (Panel::ledger);
        };
        addAndMakeVisible (*button);
        orderButtons.push_back (std::move (button));
    }
    bar.setComponentID ("ledger.bar");
    bar.setTitle ("Scroll the ledger");
    bar.setAutoHide (true);
    bar.addListener (this);
    addAndMakeVisible (bar);
}

LedgerView::~LedgerView()
{
    bar.removeListener (this);
}

juce::Rectangle<int> LedgerView::listArea() const
{
    auto box = getLocalBounds();
    box.removeFromTop (headHeight + (bench.page == LedgerPage::hits ? columnsHeight : 0));
    box.removeFromBottom (footHeight);
    return box;
}

LedgerView::Columns LedgerView::columnsIn (juce::Rectangle<float> row) const
{
    Columns c;
    row.reduce (10.0f, 0);
    c.mark = row.removeFromLeft (26.0f);
    c.time = row.removeFromLeft (90.0f);
    c.frame = row.removeFromRight (46.0f);
    c.weight = row.removeFromRight (50.0f);
    c.kind = row.removeFromRight (66.0f);
    c.label = row.withTrimmedLeft (4.0f).withTrimmedRight (8.0f);
    return c;
}

int LedgerView::rowCount() const
{
    return static_cast<int> (order.size());
}

std::string LedgerView::idOfRow (int row) const
{
    if (bench.times() == nullptr || row < 0 || row >= rowCount())
        return "";
    const auto index = order[static_cast<std::size_t> (row)];
    return bench.page == LedgerPage::hits ? bench.times()->hits[index].hit.id : bench.times()->cues[index].cue.id;
}

juce::String LedgerView::accessibleName (int row) const
{
    if (bench.times() == nullptr || row < 0 || row >= rowCount())
        return {};
    const auto index = order[static_cast<std::size_t> (row)];
    if (bench.page == LedgerPage::cues)
    {
        const auto& cue = bench.times()->cues[index].cue;
        return text ("cue " + cue.number + " " + cue.title);
    }
    const auto& row2 = bench.times()->hits[index];
    return text (std::string (spotting::weightName (row2.hit.weight)) + " " + std::string (spotting::hitKindName (row2.hit.kind))
                 + ", " + (row2.hit.label.empty() ? "no name yet" : row2.hit.label) + ", " + (row2.at ? row2.at->timecode : "lost")
                 + (row2.hit.agreed ? ", agreed" : ", open"));
}

void LedgerView::refresh()
{
    order.clear();
    if (const auto* times = bench.times())
    {
        if (bench.page == LedgerPage::hits)
            order = bench.hitRows();
        else
            for (std::size_t i = 0; i < times->cues.size(); ++i)
                order.push_back (i);
    }
    passedAt.clear();
    if (bench.page == LedgerPage::hits && bench.order == HitOrder::time)
        for (const auto index : order)
            if (const auto& at = bench.times()->hits[index].at)
                passedAt.push_back (play::deliveredBefore (bench.times()->timings, at->reel) + at->delivered);
    const auto counted = [] (const char* word, std::size_t n) { return juce::String (word) + "  " + juce::String (n); };
    hitsPage.setWords (counted ("Hits", bench.times() == nullptr ? 0 : bench.times()->hits.size()));
    cuesPage.setWords (counted ("Cues", bench.times() == nullptr ? 0 : bench.times()->cues.size()));
    hitsPage.setToggleState (bench.page == LedgerPage::hits, juce::dontSendNotification);
    cuesPage.setToggleState (bench.page == LedgerPage::cues, juce::dontSendNotification);
    const HitOrder by[] = { HitOrder::time, HitOrder::label, HitOrder::kind, HitOrder::weight };
    for (std::size_t i = 0; i < orderButtons.size(); ++i)
        orderButtons[i]->setToggleState (bench.order == by[i], juce::dontSendNotification);
    if (naming && ! bench.isSelected (namingId))
        closeName (false);
    resized();
    if (bench.selected() != selectionSeen)
    {
        selectionSeen = bench.selected();
        showSelected();
    }
    repaint();
}

void LedgerView::showSelected()
{
    if (bench.selected().empty())
        return;
    for (int row = 0; row < rowCount(); ++row)
        if (idOfRow (row) == bench.selected().front())
            return bringIntoView (row);
}

void LedgerView::bringIntoView (int row)
{
    const int height = listArea().getHeight();
    const int top = row * rowHeight;
    if (top < scroll)
        scroll = top - rowHeight;
    else if (top + rowHeight > scroll + height)
        scroll = top + 2 * rowHeight - height;
    layoutRows();
}

void LedgerView::moved()
{
    const auto after = std::upper_bound (passedAt.begin(), passedAt.end(), bench.transport.deliveredInAll());
    const int now = static_cast<int> (after - passedAt.begin()) - 1;
    if (now == nowRow)
        return;
    nowRow = now;
    if (! naming && now >= 0)
        bringIntoView (now);
    list.repaint();
}

void LedgerView::resized()
{
    auto head = getLocalBounds().removeFromTop (headHeight).reduced (8, 7);
    hitsPage.setBounds (head.removeFromLeft (hitsPage.fittingWidth()));
    head.removeFromLeft (4);
    cuesPage.setBounds (head.removeFromLeft (cuesPage.fittingWidth()));
    const auto columns =
        columnsIn (getLocalBounds().withTop (headHeight).withHeight (columnsHeight).withTrimmedRight (barWidth).toFloat());
    const juce::Rectangle<float> places[] = { columns.time, columns.label, columns.kind, columns.weight };
    for (std::size_t i = 0; i < orderButtons.size(); ++i)
    {
        orderButtons[i]->setVisible (bench.page == LedgerPage::hits);
        const auto place = places[i].toNearestInt();
        orderButtons[i]->setBounds (place.withX (place.getX() - 10).withWidth (orderButtons[i]->fittingWidth()));
    }
    list.setBounds (listArea().withTrimmedRight (barWidth));
    bar.setBounds (listArea().removeFromRight (barWidth));
    layoutRows();
}

void LedgerView::layoutRows()
{
    const int height = list.getHeight();
    scroll = juce::jlimit (0, std::max (0, rowCount() * rowHeight - height), scroll);
    bar.setRangeLimits (0, std::max (1, rowCount() * rowHeight), juce::dontSendNotification);
    bar.setCurrentRange (scroll, std::max (1, height), juce::dontSendNotification);
    const auto needed = static_cast<std::size_t> (height > 0 ? height / rowHeight + 2 : 0);
    while (rows.size() < needed)
    {
        rows.push_back (std::make_unique<Row> (*this));
        list.addAndMakeVisible (*rows.back());
    }
    const int first = scroll / rowHeight;
    for (std::size_t i = 0; i < rows.size(); ++i)
    {
        const int row = first + static_cast<int> (i);
        const bool there = i < needed && row < rowCount();
        rows[i]->setVisible (there);
        if (! there)
            continue;
        rows[i]->setBounds (0, row * rowHeight - scroll, list.getWidth(), rowHeight);
        rows[i]->show (row);
        if (naming && idOfRow (row) == namingId)
        {
            const auto label = columnsIn (rows[i]->getBounds().toFloat()).label.toNearestInt();
            const auto box =
                bench.page == LedgerPage::hits ? label : rows[i]->getBounds().withTrimmedLeft (66).withTrimmedRight (12);
            naming->setBounds (box.expanded (6, 0).reduced (0, 2));
        }
    }
}

void LedgerView::scrollBarMoved (juce::ScrollBar*, double start)
{
    scroll = static_cast<int> (start);
    layoutRows();
}

void LedgerView::mouseWheelMove (const juce::MouseEvent&, const juce::MouseWheelDetails& wheel)
{
    scroll -= juce::roundToInt (wheel.deltaY * 8 * rowHeight);
    layoutRows();
}

void LedgerView::pressedRow (int row, const juce::ModifierKeys& mods)
{
    const auto id = idOfRow (row);
    if (id.empty())
        return;
    if (naming && namingId != id)
        closeName (true);
    if (mods.isCommandDown())
        return bench.toggleSelected (id);
    if (mods.isShiftDown() && ! bench.selected().empty())
    {
        // From the row selected first to this one.
        int anchor = row;
        for (int i = 0; i < rowCount(); ++i)
            if (idOfRow (i) == bench.selected().front())
                anchor = i;
        std::vector<std::string> ids;
        for (int i = anchor; i != row; i += row > anchor ? 1 : -1)
            ids.push_back (idOfRow (i));
        ids.push_back (id);
        return bench.select (std::move (ids));
    }
    const auto index = order[static_cast<std::size_t> (row)];
    const auto place = bench.page == LedgerPage::hits ? bench.times()->hits[index].hit.place : bench.times()->cues[index].cue.in;
    bench.select ({ id });
    if (bench.transport.playing())
        return;
    if (const auto at = bench.times()->timings.find (place))
        bench.goTo (*at);
}

// ---- Naming in place

void LedgerView::renameSelected()
{
    if (bench.selected().empty() || bench.times() == nullptr)
        return;
    const auto id = bench.selected().front();
    const auto* hit = spotting::hitOf (bench.book(), id);
    const auto* cue = spotting::cueOf (bench.book(), id);
    if (hit == nullptr && cue == nullptr)
        return;
    bench.page = hit != nullptr ? LedgerPage::hits : LedgerPage::cues;
    namingId = id;
    naming = std::make_unique<Field> ("ledger.name", "Name");
    list.addAndMakeVisible (*naming);
    naming->setText (text (hit != nullptr ? hit->label : cue->title), false);
    naming->entered = [this] { closeName (true); };
    naming->left = [this] { closeName (false); };
    naming->onFocusLost = [this] { closeName (true); };
    refresh();
    showSelected();
    naming->grabKeyboardFocus();
}

void LedgerView::closeName (bool keep)
{
    if (! naming)
        return;
    // Leaving the field makes it lose the keyboard, which would come here again.
    const std::shared_ptr<Field> field = std::move (naming);
    field->onFocusLost = {};
    const auto label = field->getText().toStdString();
    const auto id = namingId;
    namingId.clear();
    if (auto* parent = getParentComponent(); parent != nullptr && field->hasKeyboardFocus (true))
        parent->grabKeyboardFocus();
    list.removeChildComponent (field.get());
    // The call came from the field itself: it may go only when that has returned.
    juce::MessageManager::callAsync ([field] {});
    if (keep)
        bench.rename (id, label);
    bench.showPanel (bench.panel);
}
} // namespace shutterbeat::window
