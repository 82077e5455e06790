#include "window/LineUpPart.h"

#include <cmath>

namespace shutterbeat::window
{
namespace
{
constexpr int takeRow = 30, soundHeight = 96;
constexpr double around = 1.2; // seconds of sound shown about a hit
} // namespace

LineUpPart::LineUpPart (Bench& theBench)
    : bench (theBench)
    , path ("lineUp.path", "File of recorded music")
    , find ("lineUp.choose", "Choose...", WordButton::Style::raised)
    , add ("lineUp.add", "Place it", WordButton::Style::raised)
    , previous ("lineUp.previous", {}, WordButton::Style::quiet)
    , next ("lineUp.next", {}, WordButton::Style::quiet)
    , check ("lineUp.check", "Check it", WordButton::Style::main)
    , hear ("lineUp.hear", "Hear it", WordButton::Style::raised)
    , list (*this, "lineUp.list", "Hits against the sound", takeRow)
{
    setComponentID ("ledger.lineUpPart");
    setTitle ("Line-up");
    auto& desk = bench.lineUp;
    const auto place = [this]
    {
        bench.lineUp.add (path.getText().trim().toStdString());
        bench.giveKeysBack();
    };
    path.entered = place;
    path.left = [this] { bench.giveKeysBack(); };
    add.onClick = place;
    find.onClick = [this] { chooseInto (path, chooser, "Recorded music", juce::File (text (bench.path())).getParentDirectory()); };
    previous.setSign (Sign::stepBack);
    previous.setTitle ("Previous sound");
    previous.onClick = [&desk] { desk.toSound (-1); };
    next.setSign (Sign::stepOn);
    next.setTitle ("Next sound");
    next.onClick = [&desk] { desk.toSound (1); };
    check.onClick = [&desk] { desk.check(); };
    hear.onClick = [&desk] { desk.hear(); };
    for (juce::Component* part :
         std::initializer_list<juce::Component*>{ &path, &find, &add, &previous, &next, &check, &hear, &list })
        addAndMakeVisible (part);
}

int LineUpPart::rowCount() const
{
    const auto* lined = bench.lineUp.lined();
    if (lined == nullptr || bench.times() == nullptr)
        return 0;
    for (const auto& one : lined->hits)
        if (one.row >= bench.times()->hits.size())
            return 0;
    return static_cast<int> (lined->hits.size());
}

const desk::HitLineUp& LineUpPart::hit (int row) const
{
    return bench.lineUp.lined()->hits[static_cast<std::size_t> (row)];
}

std::string LineUpPart::rowId (int row) const
{
    return "lineup-" + bench.times()->hits[hit (row).row].hit.id;
}

juce::String LineUpPart::lateText (const desk::HitLineUp& is) const
{
    if (! is.heard)
        return text (desk::hitVerdictName (is.verdict));
    const int ms = juce::roundToInt (is.lateMs);
    return (ms == 0 ? juce::String ("on it") : juce::String (std::abs (ms)) + (ms > 0 ? " ms late" : " ms early")) + "  "
           + juce::String (std::abs (is.frames), 1) + " fr" + (is.alone ? "" : " ?");
}

juce::String LineUpPart::rowName (int row) const
{
    return text (bench.times()->hits[hit (row).row].hit.label) + ", " + lateText (hit (row));
}

bool LineUpPart::rowChosen (int row) const
{
    return static_cast<std::size_t> (row) == bench.lineUp.hit();
}

void LineUpPart::rowPressed (int row, const juce::ModifierKeys&)
{
    bench.lineUp.look (static_cast<std::size_t> (row));
}

void LineUpPart::paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool)
{
    const auto& colours = theme();
    const auto& is = hit (row);
    const auto& at = bench.times()->hits[is.row];
    box.reduce (12, 0);
    drawMark (g, box.removeFromLeft (22).withSizeKeepingCentre (14, 14).translated (-4, 1.5f), at.hit.kind, at.hit.weight,
              ! at.hit.agreed, colours.text, colours.quiet);
    auto said = box.removeFromRight (172);
    const bool beyond = is.verdict == desk::HitVerdict::late || is.verdict == desk::HitVerdict::early;
    if (is.heard)
    {
        g.setColour (beyond ? colours.rose : colours.woods);
        g.fillPath (signShape (beyond ? Sign::brokenTick : Sign::tick, said.removeFromLeft (14).withSizeKeepingCentre (11, 11)));
    }
    drawLine (g, lateText (is), said, font (is.heard ? Face::numbers : Face::words, size::small),
              beyond     ? colours.rose
              : is.heard ? colours.text
                         : colours.quiet,
              juce::Justification::centredRight);
    const bool card = at.hit.kind == spotting::HitKind::card;
    drawLine (g, at.hit.label.empty() ? juce::String::fromUTF8 ("\xe2\x80\x93") : text (at.hit.label), box.withTrimmedRight (8),
              card ? font (Face::card, 17.0f) : font (Face::words, size::usual), colours.text);
}

juce::TextLayout LineUpPart::words (int width) const
{
    juce::AttributedString all;
    const auto* lined = bench.lineUp.lined();
    if (lined != nullptr)
        for (std::size_t i = 0; i < lined->sentences.size(); ++i)
            all.append (text (lined->sentences[i]) + "\n", font (Face::words, size::usual),
                        i < lined->faults ? theme().rose : theme().text);
    juce::TextLayout layout;
    layout.createLayout (all, static_cast<float> (width));
    return layout;
}

void LineUpPart::refresh()
{
    bench.lineUp.refresh();
    path.dress();
    path.setTextToShowWhenEmpty ("File of recorded music", theme().quiet);
    const bool any = bench.lineUp.sound() != nullptr;
    check.setVisible (any);
    hear.setVisible (rowCount() > 0);
    previous.setVisible (bench.hasBook() && bench.book().sounds.size() > 1);
    next.setVisible (previous.isVisible());
    check.setEnabled (any && ! bench.job);
    resized();
    list.refresh();
    repaint();
}

void LineUpPart::resized()
{
    auto box = getLocalBounds().reduced (partEdge, 0);
    auto line = box.removeFromTop (38).reduced (0, 3);
    add.setBounds (line.removeFromRight (add.fittingWidth()));
    line.removeFromRight (6);
    find.setBounds (line.removeFromRight (find.fittingWidth()));
    line.removeFromRight (6);
    path.setBounds (line);
    line = box.removeFromTop (32);
    next.setBounds (line.removeFromRight (30));
    previous.setBounds (line.removeFromRight (30));
    soundLine = line.toFloat();
    auto foot = box.removeFromBottom (46).reduced (0, 6);
    check.setBounds (foot.removeFromLeft (check.fittingWidth()));
    foot.removeFromLeft (8);
    hear.setBounds (foot.removeFromLeft (hear.fittingWidth()));
    const bool lined = bench.lineUp.lined() != nullptr;
    const int needed = lined ? juce::jmin (box.getHeight() / 3, static_cast<int> (words (box.getWidth()).getHeight()) + 8) : 0;
    wordsBox = box.removeFromTop (needed).toFloat();
    soundBox = rowCount() > 0 ? box.removeFromTop (soundHeight).toFloat().withTrimmedBottom (6) : juce::Rectangle<float>();
    list.setBounds (box.expanded (partEdge - 4, 0));
}

/// The sound around the hit looked at: where it was wanted, and where it was heard.
void LineUpPart::paintSound (juce::Graphics& g)
{
    const auto* lined = bench.lineUp.lined();
    if (soundBox.isEmpty() || lined == nullptr || bench.lineUp.hit() >= lined->hits.size())
        return;
    const auto& colours = theme();
    const auto& is = lined->hits[bench.lineUp.hit()];
    g.setColour (colours.ground);
    g.fillRoundedRectangle (soundBox, 4.0f);
    auto box = soundBox.reduced (6, 4);
    const auto foot = box.removeFromBottom (16);
    const auto columns = static_cast<std::size_t> (std::max (1.0f, box.getWidth()));
    const double left = is.wanted - around / 2;
    const auto first = std::llround ((left - lined->heard.from) * lined->heard.peakRate),
               end = std::llround ((left + around - lined->heard.from) * lined->heard.peakRate);
    const auto outline = lined->heard.peaks.outline (first, end, columns);
    // Soft music is drawn as large as loud: what matters is when, not how much.
    constexpr int least = 300;
    int most = least;
    for (const auto& peak : outline)
        most = std::max ({ most, int (peak.high), -int (peak.low) });
    g.setColour (colours.night);
    for (std::size_t x = 0; x < outline.size(); ++x)
    {
        const float scale = box.getHeight() / 2 / static_cast<float> (most);
        const float top = box.getCentreY() - static_cast<float> (outline[x].high) * scale;
        const float bottom = box.getCentreY() - static_cast<float> (outline[x].low) * scale;
        g.fillRect (box.getX() + static_cast<float> (x), top, 1.0f, std::max (1.0f, bottom - top));
    }
    const auto xOf = [&] (double seconds) { return box.getX() + static_cast<float> ((seconds - left) / around) * box.getWidth(); };
    const float wanted = xOf (is.wanted);
    const float dashes[] = { 4.0f, 3.0f };
    g.setColour (colours.lamp);
    g.drawDashedLine ({ wanted, box.getY(), wanted, box.getBottom() }, dashes, 2, 1.5f);
    if (is.heard)
    {
        g.setColour (is.verdict == desk::HitVerdict::within ? colours.woods : colours.rose);
        g.fillRect (xOf (*is.heard) - 0.75f, box.getY(), 1.5f, box.getHeight());
    }
    const auto small = font (Face::words, size::small);
    drawLine (g, "dashed: wanted   line: heard", foot, small, colours.quiet);
    juce::String broken;
    for (const auto& name : is.broken)
        broken += (broken.isEmpty() ? "breaks " : ", ") + text (name);
    drawLine (g, broken, foot.withTrimmedLeft (170), small, colours.rose, juce::Justification::centredRight);
}

void LineUpPart::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    const auto* sound = bench.lineUp.sound();
    if (sound == nullptr)
    {
        auto box = list.getBounds().toFloat().reduced (4, 8);
        for (const char* line : { "No recorded music yet.", "Name a file above, or drop it on the window: it goes where its time",
                                  "stamp or its name says, else at the picture on screen." })
            drawLine (g, line, box.removeFromTop (22), font (Face::words, size::usual), colours.quiet);
        return;
    }
    auto line = soundLine;
    const auto strong = font (Face::strong, size::usual);
    drawLine (g, text (sound->name),
              line.removeFromLeft (std::min (line.getWidth() * 0.6f, textWidth (strong, text (sound->name)) + 12)), strong,
              colours.text);
    drawLine (g, juce::String (static_cast<int> (bench.lineUp.number()) + 1) + " of " + juce::String (bench.book().sounds.size()),
              line, font (Face::words, size::small), colours.quiet);
    if (bench.lineUp.lined() != nullptr)
        words (juce::roundToInt (wordsBox.getWidth())).draw (g, wordsBox);
    paintSound (g);
}
} // namespace shutterbeat::window
