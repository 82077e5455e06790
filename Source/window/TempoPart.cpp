#include "window/TempoPart.h"

#include <cmath>

namespace shutterbeat::window
{
namespace
{
constexpr int tempoRow = 28, tempoCurve = 150;

/// "2.4 frames late", "on the frame".
juce::String lateText (double seconds, const time::Rational& framesPerSecond)
{
    const double frames = seconds * time::toDouble (framesPerSecond);
    if (std::abs (frames) < .05)
        return "on it";
    return juce::String (std::abs (frames), 1) + (frames > 0 ? " late" : " early");
}

/// The measure of one fit in words.
juce::String valueText (music::FitMeasure measure, double value)
{
    if (measure == music::FitMeasure::squares)
        return juce::String (juce::roundToInt (value * 1e6)) + juce::String::fromUTF8 (" ms\xc2\xb2");
    return juce::String (juce::roundToInt (value * 1000)) + " ms";
}
} // namespace

/// The tempos that fit best.
class TempoPart::Tempos final : public Rows
{
public:
    explicit Tempos (TempoDesk& theDesk)
        : desk (theDesk)
    {
    }
    [[nodiscard]] int rowCount() const override
    {
        return desk.answer() == nullptr ? 0 : static_cast<int> (desk.answer()->best.size());
    }
    [[nodiscard]] std::string rowId (int row) const override { return "tempo-" + std::to_string (row + 1); }
    [[nodiscard]] juce::String rowName (int row) const override
    {
        const auto& listed = desk.answer()->best[static_cast<std::size_t> (row)];
        return juce::String (listed.point.beatsPerMinute, 2) + " beats a minute, " + juce::String (listed.within) + " of "
               + juce::String (desk.answer()->hits.size()) + " hits within their limits";
    }
    [[nodiscard]] bool rowChosen (int row) const override { return desk.chosen() == static_cast<std::size_t> (row); }
    void rowPressed (int row, const juce::ModifierKeys&) override { desk.choose (static_cast<std::size_t> (row)); }
    void rowDoublePressed (int) override { desk.take(); }
    void paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool) override
    {
        const auto& colours = theme();
        const auto& listed = desk.answer()->best[static_cast<std::size_t> (row)];
        const auto numbers = font (Face::numbers, size::usual), small = font (Face::numbers, size::small);
        box.reduce (12, 0);
        drawLine (g, juce::String (listed.point.beatsPerMinute, 2), box.removeFromLeft (64), numbers, colours.text);
        drawLine (g, text (listed.click), box.removeFromLeft (52), small, colours.quiet);
        const auto all = desk.answer()->hits.size();
        auto sign = box.removeFromLeft (14);
        g.setColour (listed.within == all ? colours.woods : colours.rose);
        g.fillPath (signShape (listed.within == all ? Sign::tick : Sign::brokenTick, sign.withSizeKeepingCentre (11, 11)));
        drawLine (g, juce::String (listed.within) + " of " + juce::String (all), box.removeFromLeft (74).withTrimmedLeft (6), small,
                  colours.text);
        const auto chance = box.removeFromRight (juce::jmin (116.0f, box.getWidth() * 0.6f));
        drawLine (g, "chance " + valueText (desk.wish().fit.measure, listed.chance), chance, small, colours.quiet,
                  juce::Justification::centredRight);
        drawLine (g, valueText (desk.wish().fit.measure, listed.point.value), box, small, colours.text,
                  juce::Justification::centredRight);
    }

private:
    TempoDesk& desk;
};

/// Each hit at the tempo looked at.
class TempoPart::Hits final : public Rows
{
public:
    explicit Hits (Bench& theBench)
        : bench (theBench)
    {
    }
    [[nodiscard]] int rowCount() const override
    {
        const auto* answer = bench.tempo.answer();
        // The answer speaks of the hits it was made of; until it is made anew they may be others.
        if (answer == nullptr || ! bench.tempo.chosen() || bench.times() == nullptr)
            return 0;
        for (const auto& hit : answer->hits)
            if (hit.row >= bench.times()->hits.size())
                return 0;
        return static_cast<int> (answer->hits.size());
    }
    [[nodiscard]] std::string rowId (int row) const override { return "fit-" + hitOf (row).hit.id; }
    [[nodiscard]] juce::String rowName (int row) const override
    {
        return text (hitOf (row).hit.label) + ", " + lateText (landing (row).late, rate());
    }
    [[nodiscard]] bool rowChosen (int row) const override { return bench.isSelected (hitOf (row).hit.id); }
    void rowPressed (int row, const juce::ModifierKeys&) override
    {
        const auto& hit = hitOf (row);
        bench.select ({ hit.hit.id });
        if (! bench.transport.playing())
            if (const auto at = bench.times()->timings.find (hit.hit.place))
                bench.goTo (*at);
    }
    void paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool) override
    {
        const auto& colours = theme();
        const auto& hit = hitOf (row);
        const auto& at = landing (row);
        const auto small = font (Face::numbers, size::small);
        box.reduce (12, 0);
        drawMark (g, box.removeFromLeft (22).withSizeKeepingCentre (14, 14).translated (-4, 1.5f), hit.hit.kind, hit.hit.weight,
                  ! hit.hit.agreed, colours.text, colours.quiet);
        const bool card = hit.hit.kind == spotting::HitKind::card;
        auto late = box.removeFromRight (88);
        g.setColour (at.within ? colours.woods : colours.rose);
        g.fillPath (signShape (at.within ? Sign::tick : Sign::brokenTick, late.removeFromLeft (12).withSizeKeepingCentre (11, 11)));
        drawLine (g, lateText (at.late, rate()), late, small, at.within ? colours.text : colours.rose,
                  juce::Justification::centredRight);
        const bool whole = at.beat == std::floor (at.beat);
        drawLine (g, "beat " + (whole ? juce::String (juce::roundToInt (at.beat) + 1) : juce::String (at.beat + 1, 1)),
                  box.removeFromRight (82).withTrimmedRight (12), small, colours.quiet, juce::Justification::centredRight);
        drawLine (g, hit.hit.label.empty() ? juce::String::fromUTF8 ("\xe2\x80\x93") : text (hit.hit.label),
                  box.withTrimmedRight (8), card ? font (Face::card, 17.0f) : font (Face::words, size::usual), colours.text);
    }

private:
    [[nodiscard]] const spotting::HitTimes& hitOf (int row) const
    {
        return bench.times()->hits[bench.tempo.answer()->hits[static_cast<std::size_t> (row)].row];
    }
    [[nodiscard]] const music::Landing& landing (int row) const
    {
        return bench.tempo.answer()->best[*bench.tempo.chosen()].landings[static_cast<std::size_t> (row)];
    }
    [[nodiscard]] time::Rational rate() const { return bench.times()->timings.delivery().rate.perSecond; }
    Bench& bench;
};

TempoPart::TempoPart (Bench& theBench)
    : bench (theBench)
    , previousCue ("tempo.previousCue", {}, WordButton::Style::quiet)
    , nextCue ("tempo.nextCue", {}, WordButton::Style::quiet)
    , bind ("tempo.bind", "Musts bind", WordButton::Style::column)
    , fromIn ("tempo.fromIn", "Beat on the in", WordButton::Style::column)
    , halves ("tempo.halves", "Half beats", WordButton::Style::column)
    , range ("tempo.range", "Range in beats a minute")
    , curve (bench.tempo)
    , tempos (std::make_unique<Tempos> (bench.tempo))
    , hits (std::make_unique<Hits> (bench))
    , tempoList (*tempos, "tempo.list", "Tempos that fit best", tempoRow)
    , hitList (*hits, "tempo.hits", "Hits at this tempo", tempoRow)
    , hear ("tempo.hear", "Hear it", WordButton::Style::raised)
    , take ("tempo.take", "Take this tempo", WordButton::Style::main)
{
    setComponentID ("ledger.tempoPart");
    setTitle ("Tempo of a cue");
    auto& desk = bench.tempo;
    previousCue.setTitle ("Previous cue");
    nextCue.setTitle ("Next cue");
    previousCue.setSign (Sign::stepBack);
    nextCue.setSign (Sign::stepOn);
    previousCue.onClick = [&desk] { desk.toCue (-1); };
    nextCue.onClick = [&desk] { desk.toCue (1); };
    const std::tuple<const char*, const char*, music::FitMeasure> kinds[] = {
        { "tempo.beyond", "Beyond limits", music::FitMeasure::beyond },
        { "tempo.largest", "Largest error", music::FitMeasure::largest },
        { "tempo.squares", "Squares", music::FitMeasure::squares }
    };
    for (const auto& [id, words, kind] : kinds)
    {
        measures.push_back (std::make_unique<WordButton> (id, words, WordButton::Style::column));
        measures.back()->onClick = [&desk, kind = kind] { desk.setMeasure (kind); };
    }
    bind.onClick = [&desk] { desk.setMustsBind (! desk.wish().mustsBind); };
    fromIn.onClick = [&desk] { desk.setFromIn (desk.wish().start == "free"); };
    halves.onClick = [&desk] { desk.setGrid (desk.wish().fit.grid == 1 ? .5 : 1); };
    range.entered = [this]
    {
        bench.tempo.setRange (range.getText().toStdString());
        bench.giveKeysBack();
    };
    range.left = [this]
    {
        range.setText (text (bench.tempo.rangeText()), false);
        bench.giveKeysBack();
    };
    hear.setKeyShown ("P");
    take.setKeyShown ("E");
    hear.onClick = [&desk] { desk.hear(); };
    take.onClick = [&desk] { desk.take(); };
    for (juce::Component* part : std::initializer_list<juce::Component*>{ &previousCue, &nextCue, &bind, &fromIn, &halves, &range,
                                                                          &curve, &tempoList, &hitList, &hear, &take })
        addAndMakeVisible (part);
    for (const auto& measure : measures)
        addAndMakeVisible (*measure);
}

TempoPart::~TempoPart() = default;

int TempoPart::tempoRowsHeight() const
{
    return tempoRow * juce::jlimit (1, getHeight() > 620 ? 6 : 4, tempos->rowCount());
}

void TempoPart::refresh()
{
    bench.tempo.refresh();
    const auto& wish = bench.tempo.wish();
    const music::FitMeasure kinds[] = { music::FitMeasure::beyond, music::FitMeasure::largest, music::FitMeasure::squares };
    for (std::size_t i = 0; i < measures.size(); ++i)
        measures[i]->setToggleState (wish.fit.measure == kinds[i], juce::dontSendNotification);
    bind.setToggleState (wish.mustsBind, juce::dontSendNotification);
    fromIn.setToggleState (wish.start != "free", juce::dontSendNotification);
    halves.setToggleState (wish.fit.grid != 1, juce::dontSendNotification);
    if (! range.hasKeyboardFocus (true))
        range.setText (text (bench.tempo.rangeText()), false);
    range.dress();
    const bool any = bench.tempo.chosen().has_value();
    hear.setEnabled (any);
    take.setEnabled (any);
    resized();
    tempoList.refresh();
    hitList.refresh();
    repaint();
}

void TempoPart::resized()
{
    auto box = getLocalBounds().reduced (partEdge, 0);
    auto line = box.removeFromTop (34);
    nextCue.setBounds (line.removeFromRight (30));
    previousCue.setBounds (line.removeFromRight (30));
    cueLine = line.toFloat();
    auto rowOf = [&] (std::initializer_list<WordButton*> buttons, int x)
    {
        auto row = box.removeFromTop (26);
        row.removeFromLeft (x);
        for (auto* button : buttons)
            button->setBounds (row.removeFromLeft (button->fittingWidth()));
        return row;
    };
    rowOf ({ measures[0].get(), measures[1].get(), measures[2].get() }, -8);
    auto rest = rowOf ({ &bind, &fromIn, &halves }, -8);
    range.setBounds (rest.removeFromRight (juce::jmin (76, rest.getWidth())).reduced (0, 1));
    box.removeFromTop (6);
    curve.setBounds (box.removeFromTop (juce::jlimit (90, tempoCurve, box.getHeight() / 3)));
    auto foot = box.removeFromBottom (48).reduced (0, 7);
    take.setBounds (foot.removeFromLeft (take.fittingWidth()));
    foot.removeFromLeft (8);
    hear.setBounds (foot.removeFromLeft (hear.fittingWidth()));
    troubleBox = box.toFloat().reduced (0, 12);
    const bool listed = tempos->rowCount() > 0;
    tempoList.setVisible (listed);
    hitList.setVisible (listed);
    temposHead = box.removeFromTop (24).toFloat();
    tempoList.setBounds (box.removeFromTop (tempoRowsHeight()).expanded (partEdge - 4, 0));
    hitsHead = box.removeFromTop (26).toFloat();
    hitList.setBounds (box.expanded (partEdge - 4, 0));
}

void TempoPart::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    const auto& desk = bench.tempo;
    const auto small = font (Face::words, size::small);
    const auto* cue = bench.hasBook() ? spotting::cueOf (bench.book(), desk.cue()) : nullptr;
    if (cue != nullptr)
    {
        auto line = cueLine;
        const auto strong = font (Face::strong, size::usual);
        const auto name = text (cue->number + "  " + cue->title);
        drawLine (g, name, line.removeFromLeft (std::min (line.getWidth() * 0.62f, textWidth (strong, name) + 14)), strong,
                  colours.text);
        drawLine (g, cue->tempo ? "now " + juce::String (time::toDouble (cue->tempo->opening().beatsPerMinute), 2) : "no tempo yet",
                  line, small, colours.quiet);
    }
    if (tempos->rowCount() == 0)
    {
        if (desk.busy())
            return;
        juce::AttributedString words;
        words.append (text (desk.trouble()), font (Face::words, size::usual), colours.quiet);
        words.draw (g, troubleBox);
        return;
    }
    drawLine (g, "Beats a minute", temposHead, small, colours.quiet);
    drawLine (g, "within limits", temposHead.withTrimmedLeft (130), small, colours.quiet);
    const auto* answer = desk.answer();
    const auto luck = juce::roundToInt (answer->chanceOfFit * 100);
    drawLine (g, "In frames", hitsHead, small, colours.quiet);
    if (answer->chanceOfFit > .2)
        drawLine (g, "as many random hits would all fit in " + juce::String (luck) + " % of cases", hitsHead.withTrimmedLeft (66),
                  small, colours.rose, juce::Justification::centredRight);
}
} // namespace shutterbeat::window
