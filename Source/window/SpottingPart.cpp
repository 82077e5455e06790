#include "window/SpottingPart.h"

#include "play/Reels.h"

#include <algorithm>

namespace shutterbeat::window
{
SpottingPart::SpottingPart (Bench& theBench)
    : bench (theBench)
    , list (*this, "ledger.list", "Hits and cues", rowHeight)
    , search ("ledger.find", "Find in the list")
    , mustOnly ("ledger.mustOnly", "Musts", WordButton::Style::column)
    , openOnly ("ledger.openOnly", "Open", WordButton::Style::column)
    , details (bench)
{
    setComponentID ("ledger.spotting");
    setTitle ("Hits and cues");
    setMouseClickGrabsKeyboardFocus (false);
    for (juce::Component* part : std::initializer_list<juce::Component*>{ &list, &search, &mustOnly, &openOnly, &details })
        addAndMakeVisible (part);
    search.setTooltip ("Words that stand in label, note, cue, kind, weight or who asked");
    search.onTextChange = [this]
    {
        bench.filter.words = search.getText().trim().toStdString();
        refresh();
    };
    const auto giveBack = [this] { bench.giveKeysBack(); };
    search.entered = giveBack;
    search.left = [this, giveBack]
    {
        search.setText ({}, true);
        giveBack();
    };
    mustOnly.setTooltip ("Only musts");
    openOnly.setTooltip ("Only what is not agreed yet");
    mustOnly.onClick = [this] { bench.filter.mustOnly = ! bench.filter.mustOnly, refresh(); };
    openOnly.onClick = [this] { bench.filter.openOnly = ! bench.filter.openOnly, refresh(); };
    list.onMoved = [this] { placeName(); };
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
}

juce::Rectangle<int> SpottingPart::listArea() const
{
    auto box = getLocalBounds();
    box.removeFromTop (findHeight + (bench.page == LedgerPage::hits ? columnsHeight : 0));
    box.removeFromBottom (footHeight + details.wantedHeight());
    return box;
}

juce::Rectangle<float> SpottingPart::headOfColumns() const
{
    return getLocalBounds().withTrimmedTop (findHeight).withHeight (columnsHeight).withTrimmedRight (RowList::barWidth).toFloat();
}

SpottingPart::Columns SpottingPart::columnsIn (juce::Rectangle<float> row) const
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

std::string SpottingPart::rowId (int row) const
{
    if (bench.times() == nullptr || row < 0 || row >= rowCount())
        return "";
    const auto index = order[static_cast<std::size_t> (row)];
    return bench.page == LedgerPage::hits ? bench.times()->hits[index].hit.id : bench.times()->cues[index].cue.id;
}

juce::String SpottingPart::rowName (int row) const
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

void SpottingPart::refresh()
{
    order.clear();
    if (const auto* times = bench.times())
    {
        const bool hits = bench.page == LedgerPage::hits;
        if (hits)
            order = bench.hitRows();
        else
            for (std::size_t i = 0; i < times->cues.size(); ++i)
                order.push_back (i);
        all = order.size();
        if (bench.filter.narrows())
            std::erase_if (order,
                           [&] (std::size_t i) {
                               return ! (hits ? bench.filter.lets (times->hits[i].hit, bench.book())
                                              : bench.filter.lets (times->cues[i].cue));
                           });
    }
    mustOnly.setToggleState (bench.filter.mustOnly, juce::dontSendNotification);
    openOnly.setToggleState (bench.filter.openOnly, juce::dontSendNotification);
    search.dress();
    details.refresh();
    passedAt.clear();
    if (bench.page == LedgerPage::hits && bench.order == HitOrder::time)
        for (const auto index : order)
            if (const auto& at = bench.times()->hits[index].at)
                passedAt.push_back (play::deliveredBefore (bench.times()->timings, at->reel) + at->delivered);
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

void SpottingPart::showSelected()
{
    if (bench.selected().empty())
        return;
    for (int row = 0; row < rowCount(); ++row)
        if (rowId (row) == bench.selected().front())
            return list.bringIntoView (row);
}

void SpottingPart::moved()
{
    const auto after = std::upper_bound (passedAt.begin(), passedAt.end(), bench.transport.deliveredInAll());
    const int now = static_cast<int> (after - passedAt.begin()) - 1;
    if (now == nowRow)
        return;
    nowRow = now;
    if (! naming && now >= 0)
        list.bringIntoView (now);
    list.repaint();
}

void SpottingPart::resized()
{
    const auto columns = columnsIn (headOfColumns());
    const juce::Rectangle<float> places[] = { columns.time, columns.label, columns.kind, columns.weight };
    for (std::size_t i = 0; i < orderButtons.size(); ++i)
    {
        orderButtons[i]->setVisible (bench.page == LedgerPage::hits);
        const auto place = places[i].toNearestInt();
        orderButtons[i]->setBounds (place.withX (place.getX() - 10).withWidth (orderButtons[i]->fittingWidth()));
    }
    auto head = getLocalBounds().withHeight (findHeight).reduced (12, 3);
    const bool hits = bench.page == LedgerPage::hits;
    openOnly.setVisible (hits);
    mustOnly.setVisible (hits);
    if (hits)
    {
        openOnly.setBounds (head.removeFromRight (openOnly.fittingWidth()));
        mustOnly.setBounds (head.removeFromRight (mustOnly.fittingWidth()));
        head.removeFromRight (6);
    }
    search.setBounds (head.withTrimmedLeft (76));
    details.setBounds (getLocalBounds().withTrimmedBottom (footHeight).removeFromBottom (details.wantedHeight()));
    list.setBounds (listArea());
    list.refresh();
}

void SpottingPart::noteOnSelected()
{
    refresh();
    details.typeNote();
}

void SpottingPart::find()
{
    search.grabKeyboardFocus();
    search.selectAll();
}

/// The field lies on the row whose name is typed, wherever that has moved.
void SpottingPart::placeName()
{
    if (! naming)
        return;
    for (int row = 0; row < rowCount(); ++row)
        if (rowId (row) == namingId)
        {
            const auto line = list.boundsOf (row);
            const auto label = columnsIn (line.toFloat()).label.toNearestInt();
            const auto box = bench.page == LedgerPage::hits ? label : line.withTrimmedLeft (66).withTrimmedRight (12);
            naming->setBounds (box.expanded (6, 0).reduced (0, 2));
        }
}

void SpottingPart::paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool chosen)
{
    if (row == nowRow && ! passedAt.empty())
    {
        g.setColour (theme().lamp);
        g.fillPath (signShape (Sign::play, { 1.0f, box.getCentreY() - 4.0f, 7.0f, 8.0f }));
    }
    const auto index = order[static_cast<std::size_t> (row)];
    if (bench.page == LedgerPage::hits)
        paintHit (g, index, box, chosen);
    else
        paintCue (g, index, box, chosen);
}

void SpottingPart::rowDoublePressed (int)
{
    if (bench.onRename)
        bench.onRename();
}

void SpottingPart::rowPressed (int row, const juce::ModifierKeys& mods)
{
    const auto id = rowId (row);
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
            if (rowId (i) == bench.selected().front())
                anchor = i;
        std::vector<std::string> ids;
        for (int i = anchor; i != row; i += row > anchor ? 1 : -1)
            ids.push_back (rowId (i));
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

void SpottingPart::renameSelected()
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

void SpottingPart::closeName (bool keep)
{
    if (! naming)
        return;
    // Leaving the field makes it lose the keyboard, which would come here again.
    const std::shared_ptr<Field> field = std::move (naming);
    field->onFocusLost = {};
    const auto label = field->getText().toStdString();
    const auto id = namingId;
    namingId.clear();
    if (field->hasKeyboardFocus (true))
        bench.giveKeysBack();
    list.removeChildComponent (field.get());
    // The call came from the field itself: it may go only when that has returned.
    juce::MessageManager::callAsync ([field] {});
    if (keep)
        bench.rename (id, label);
    bench.showPanel (bench.panel);
}
} // namespace shutterbeat::window
