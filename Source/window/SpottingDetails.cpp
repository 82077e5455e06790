#include "window/SpottingDetails.h"

#include "time/Clock.h"
#include "time/Text.h"

#include <algorithm>

namespace shutterbeat::window
{
namespace
{
constexpr int detailRow = 28, gap = 6, aboutHeight = 20;

/// Exact seconds as milliseconds, as few digits as there are.
std::string millisecondsText (const time::Rational& seconds)
{
    const auto ms = seconds * time::Rational (1000);
    return ms.isWhole() ? time::decimalText (ms, 0) : time::fractionText (ms);
}

/// The value all have in common, or nothing.
template <class Rows, class Get>
std::string common (const Rows& rows, Get get)
{
    std::string value = rows.empty() ? "" : get (*rows.front());
    for (const auto* row : rows)
        if (get (*row) != value)
            return "";
    return value;
}

std::vector<const spotting::HitPoint*> selectedHits (const Bench& bench)
{
    std::vector<const spotting::HitPoint*> found;
    if (bench.hasBook())
        for (const auto& id : bench.selected())
            if (const auto* hit = spotting::hitOf (bench.book(), id))
                found.push_back (hit);
    return found;
}

std::vector<const spotting::Cue*> selectedCues (const Bench& bench)
{
    std::vector<const spotting::Cue*> found;
    if (bench.hasBook())
        for (const auto& id : bench.selected())
            if (const auto* cue = spotting::cueOf (bench.book(), id))
                found.push_back (cue);
    return found;
}
} // namespace

SpottingDetails::SpottingDetails (Bench& theBench)
    : bench (theBench)
    , kind ("details.kind", "Kind", WordButton::Style::raised)
    , status ("details.status", "Status", WordButton::Style::raised)
{
    setComponentID ("details");
    setTitle ("What is selected");
    add ("details.note", "Note", true);
    add ("details.askedBy", "Asked by", true);
    add ("details.lead", "Lead ms", true);
    add ("details.early", "Early ms", true);
    add ("details.late", "Late ms", true);
    add ("details.cueNote", "Note", false);
    add ("details.mood", "Mood", false);
    add ("details.version", "Version", false);
    kind.setTooltip ("Next kind of cue");
    status.setTooltip ("How far the cue has come");
    kind.onClick = [this] { bench.cycleCueKind(); };
    status.onClick = [this] { bench.cycleCueStatus(); };
    addChildComponent (kind);
    addChildComponent (status);
}

SpottingDetails::Line& SpottingDetails::add (const char* id, const char* words, bool ofHit)
{
    auto field = std::make_unique<Field> (id, words);
    auto* raw = field.get();
    const auto which = lines.size();
    const auto keep = [this, which, raw]
    {
        auto& line = lines[which];
        if (raw->getText() != line.asShown)
        {
            line.asShown = raw->getText();
            take (line, raw->getText().trim().toStdString());
        }
    };
    const auto giveBack = [this] { bench.giveKeysBack(); };
    raw->entered = [keep, giveBack]
    {
        keep();
        giveBack();
    };
    raw->left = [this, which, raw, giveBack]
    {
        raw->setText (lines[which].asShown, false);
        giveBack();
    };
    raw->onFocusLost = keep;
    addChildComponent (*raw);
    lines.push_back ({ std::move (field), words, ofHit, {} });
    return lines.back();
}

void SpottingDetails::fill (Line& line, const juce::String& value)
{
    if (line.field->hasKeyboardFocus (true))
        return;
    line.asShown = value;
    line.field->setText (value, false);
    line.field->dress();
}

void SpottingDetails::refresh()
{
    const auto ofHits = selectedHits (bench);
    const auto ofCues = selectedCues (bench);
    hits = bench.page == LedgerPage::hits && ! ofHits.empty();
    cues = bench.page == LedgerPage::cues && ! ofCues.empty();
    for (auto& line : lines)
        line.field->setVisible (line.ofHit ? hits : cues);
    kind.setVisible (cues);
    status.setVisible (cues);
    if (hits)
    {
        fill (lines[0], text (common (ofHits, [] (const spotting::HitPoint& hit) { return hit.note; })));
        fill (lines[1], text (common (ofHits, [] (const spotting::HitPoint& hit) { return hit.askedBy; })));
        fill (lines[2], text (common (ofHits, [] (const spotting::HitPoint& hit) { return millisecondsText (hit.lead); })));
        fill (lines[3], text (common (ofHits, [] (const spotting::HitPoint& hit) { return std::to_string (hit.earlyMs); })));
        fill (lines[4], text (common (ofHits, [] (const spotting::HitPoint& hit) { return std::to_string (hit.lateMs); })));
    }
    if (cues)
    {
        fill (lines[5], text (common (ofCues, [] (const spotting::Cue& cue) { return cue.note; })));
        fill (lines[6], text (common (ofCues, [] (const spotting::Cue& cue) { return cue.mood; })));
        fill (lines[7], text (common (ofCues, [] (const spotting::Cue& cue) { return cue.version; })));
        const auto kinds =
            common (ofCues, [] (const spotting::Cue& cue) { return std::string (spotting::cueKindName (cue.kind)); });
        const auto states =
            common (ofCues, [] (const spotting::Cue& cue) { return std::string (spotting::cueStatusName (cue.status)); });
        kind.setWords (kinds.empty() ? juce::String ("kind") : text (kinds));
        status.setWords (states.empty() ? juce::String ("status") : text (states));
    }
    resized();
    repaint();
}

void SpottingDetails::typeNote()
{
    for (auto& line : lines)
        if (line.words == "Note" && line.field->isVisible())
            line.field->grabKeyboardFocus();
}

int SpottingDetails::wantedHeight() const
{
    return hits || cues ? 2 * detailRow + gap + aboutHeight + 12 : 0;
}

// ---- What is typed

void SpottingDetails::take (const Line& line, const std::string& typed)
{
    const auto id = line.field->getComponentID().toStdString();
    line.ofHit ? takeHit (id, typed) : takeCue (id, typed);
}

void SpottingDetails::takeHit (const std::string& id, const std::string& typed)
{
    if (id == "details.note")
        return bench.editHits ("note", [&] (spotting::HitPoint& hit) { hit.note = typed; });
    if (id == "details.askedBy")
        return bench.editHits ("asked by", [&] (spotting::HitPoint& hit) { hit.askedBy = typed; });
    if (id == "details.lead")
    {
        const auto ms = time::parseRational (typed);
        if (! ms)
            return bench.complain ("Lead: milliseconds from the picture to where the music strikes, such as -40 or 125/3.");
        return bench.editHits ("lead", [&] (spotting::HitPoint& hit) { hit.lead = *ms / time::Rational (1000); });
    }
    const auto ms = time::parseWhole (typed);
    if (! ms || *ms < 0 || *ms > 60'000)
        return bench.complain ("A limit is whole milliseconds, such as 80.");
    bench.editHits ("limits",
                    [&] (spotting::HitPoint& hit) { (id == "details.early" ? hit.earlyMs : hit.lateMs) = static_cast<int> (*ms); });
}

void SpottingDetails::takeCue (const std::string& id, const std::string& typed)
{
    if (id == "details.cueNote")
        bench.editCues ("note", [&] (spotting::Cue& cue) { cue.note = typed; });
    else if (id == "details.mood")
        bench.editCues ("mood", [&] (spotting::Cue& cue) { cue.mood = typed; });
    else
        bench.editCues ("version", [&] (spotting::Cue& cue) { cue.version = typed; });
}

// ---- The look of it

/// The hit's cue, and what the card says on which it stands.
juce::String SpottingDetails::about() const
{
    const auto ofHits = selectedHits (bench);
    if (! hits || bench.times() == nullptr)
        return cues && bench.selected().size() > 1 ? juce::String (bench.selected().size()) + " cues selected" : juce::String();
    if (ofHits.size() > 1)
        return juce::String (ofHits.size()) + " hits selected: what is typed goes to all of them";
    const auto& hit = *ofHits.front();
    juce::String words;
    if (const auto* cue = spotting::cueOf (bench.book(), hit.cue))
        words = "In cue " + text (cue->number) + (cue->title.empty() ? juce::String() : " " + text (cue->title));
    else
        words = "In no cue";
    const auto& timings = bench.times()->timings;
    if (const auto at = timings.find (hit.place))
    {
        const auto& shot = timings.edition().shots[at->shot];
        if (shot.kind == film::ShotKind::card && ! shot.wording.empty())
            words += juce::String::fromUTF8 (".  Card: \xe2\x80\x9c") + text (shot.wording).replaceCharacters ("\r\n", "  ")
                     + juce::String::fromUTF8 ("\xe2\x80\x9d");
    }
    return words;
}

void SpottingDetails::resized()
{
    auto box = getLocalBounds().reduced (12, 4);
    box.removeFromTop (aboutHeight);
    const auto small = font (Face::words, size::small);
    const auto lay = [&] (juce::Rectangle<int> row, std::initializer_list<std::size_t> which, std::initializer_list<int> widths)
    {
        auto width = widths.begin();
        for (const auto i : which)
        {
            auto place = *width > 0 ? row.removeFromLeft (*width) : row;
            place.removeFromLeft (juce::roundToInt (textWidth (small, lines[i].words)) + 6);
            lines[i].field->setBounds (place.withTrimmedRight (*width > 0 ? 8 : 0));
            ++width;
        }
    };
    auto first = box.removeFromTop (detailRow);
    box.removeFromTop (gap);
    auto second = box.removeFromTop (detailRow);
    if (hits)
    {
        lay (first, { 0 }, { 0 });
        const int part = second.getWidth() / 9;
        lay (second, { 1, 2, 3, 4 }, { 3 * part, 2 * part, 2 * part, 0 });
    }
    else if (cues)
    {
        status.setBounds (first.removeFromRight (status.fittingWidth()));
        first.removeFromRight (6);
        kind.setBounds (first.removeFromRight (kind.fittingWidth()));
        first.removeFromRight (8);
        lay (first, { 5 }, { 0 });
        lay (second, { 6, 7 }, { second.getWidth() * 3 / 5, 0 });
    }
}

void SpottingDetails::paint (juce::Graphics& g)
{
    if (! hits && ! cues)
        return;
    const auto& colours = theme();
    g.setColour (colours.raised);
    g.fillRect (getLocalBounds().withHeight (1));
    const auto small = font (Face::words, size::small);
    drawLine (g, about(), getLocalBounds().reduced (12, 4).removeFromTop (aboutHeight).toFloat(), small, colours.quiet);
    for (const auto& line : lines)
        if (line.field->isVisible())
        {
            const auto box = line.field->getBounds().toFloat();
            const float wide = textWidth (small, line.words) + 6;
            drawLine (g, line.words, { box.getX() - wide, box.getY(), wide, box.getHeight() }, small, colours.quiet);
        }
}
} // namespace shutterbeat::window
