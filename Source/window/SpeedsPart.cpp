#include "window/SpeedsPart.h"

#include "time/Clock.h"

#include <algorithm>

namespace shutterbeat::window
{
namespace
{
constexpr int speedRow = 30, usualHeight = 24, speedCurve = 84;
using Reach = SpeedsDesk::Reach;

/// Where the columns of the table of usual speeds lie, from the left.
struct Columns
{
    juce::Rectangle<float> speed, feet, minutes, length;
};
Columns columnsIn (juce::Rectangle<float> row)
{
    Columns c;
    c.speed = row.removeFromLeft (84);
    c.feet = row.removeFromLeft (76);
    c.minutes = row.removeFromLeft (104);
    c.length = row;
    return c;
}
} // namespace

SpeedsPart::SpeedsPart (Bench& theBench)
    : bench (theBench)
    , list (*this, "speeds.list", "Runs of one speed", speedRow)
    , table (usual, "speeds.table", "Usual speeds", usualHeight)
    , shot ("speeds.shot", "This shot", WordButton::Style::column)
    , run ("speeds.run", "This run", WordButton::Style::column)
    , whole ("speeds.whole", "The whole film", WordButton::Style::column)
    , speed ("speeds.typed", "Film frames a second: 18, 200/11, 80ft/min")
    , take ("speeds.take", "Take it", WordButton::Style::main)
    , effect ("speeds.effect")
{
    setComponentID ("ledger.speedsPart");
    setTitle ("Running speeds");
    auto& desk = bench.speeds;
    shot.onClick = [&desk] { desk.setReach (Reach::shot); };
    run.onClick = [&desk] { desk.setReach (Reach::run); };
    whole.onClick = [&desk] { desk.setReach (Reach::film); };
    take.onClick = [&desk] { desk.take(); };
    speed.onTextChange = [this] { bench.speeds.type (speed.getText().trim().toStdString()); };
    speed.entered = [this]
    {
        bench.speeds.take();
        bench.giveKeysBack();
    };
    speed.left = [this] { bench.giveKeysBack(); };
    speed.setTextToShowWhenEmpty ("18, 200/11, 80ft/min, 13min/1000ft", theme().quiet);
    for (juce::Component* part :
         std::initializer_list<juce::Component*>{ &list, &table, &shot, &run, &whole, &speed, &take, &effect })
        addAndMakeVisible (part);
}

void SpeedsPart::refresh()
{
    const auto& desk = bench.speeds;
    runs.clear();
    if (bench.times() != nullptr)
    {
        const auto& edition = bench.times()->timings.edition();
        runs = spotting::speedRuns (edition);
        usual.rows = spotting::speedTable (edition);
    }
    shot.setToggleState (desk.reach() == Reach::shot, juce::dontSendNotification);
    run.setToggleState (desk.reach() == Reach::run, juce::dontSendNotification);
    whole.setToggleState (desk.reach() == Reach::film, juce::dontSendNotification);
    take.setEnabled (! desk.typed().empty());
    effect.setWords (text (desk.effect()), Face::words, size::small, true);
    speed.dress();
    shotSeen = bench.transport.position().shot;
    resized();
    list.refresh();
    table.refresh();
    repaint();
}

void SpeedsPart::moved()
{
    if (bench.transport.position().shot != shotSeen && ! bench.transport.playing())
        refresh();
}

juce::String SpeedsPart::shotsText (const spotting::SpeedRun& is) const
{
    const auto& shots = bench.times()->timings.edition().shots;
    const auto first = text (shots[is.first].name), last = text (shots[is.end - 1].name);
    return is.end - is.first == 1 ? "shot " + first : "shots " + first + juce::String::fromUTF8 (" \xe2\x80\x93 ") + last;
}

juce::String SpeedsPart::rowName (int row) const
{
    const auto& is = runs[static_cast<std::size_t> (row)];
    return text (time::speedName (is.speed)) + " film frames a second, " + shotsText (is) + ", "
           + text (time::clockText (is.seconds));
}

bool SpeedsPart::rowChosen (int row) const
{
    const auto& is = runs[static_cast<std::size_t> (row)];
    const auto here = bench.transport.position().shot;
    return is.first <= here && here < is.end;
}

void SpeedsPart::rowPressed (int row, const juce::ModifierKeys&)
{
    bench.goTo (bench.times()->timings.shotHead (runs[static_cast<std::size_t> (row)].first));
}

void SpeedsPart::paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool)
{
    const auto& colours = theme();
    const auto& is = runs[static_cast<std::size_t> (row)];
    const auto numbers = font (Face::numbers, size::small);
    box.reduce (12, 0);
    drawLine (g, text (time::speedName (is.speed)), box.removeFromLeft (76), numbers, colours.text);
    drawLine (g, text (time::clockText (is.seconds)), box.removeFromRight (76), numbers, colours.text,
              juce::Justification::centredRight);
    drawLine (g, juce::String (is.frames) + " fr.", box.removeFromRight (84), numbers, colours.quiet,
              juce::Justification::centredRight);
    drawLine (g, shotsText (is), box, font (Face::words, size::small), colours.quiet);
}

void SpeedsPart::resized()
{
    auto box = getLocalBounds().reduced (partEdge, 0);
    curveBox = box.removeFromTop (speedCurve).toFloat();
    box.removeFromTop (6);
    auto foot = box.removeFromBottom (effect.heightFor (box.getWidth()) + 10);
    effect.setBounds (foot.withTrimmedTop (2));
    foot = box.removeFromBottom (38).reduced (0, 2);
    take.setBounds (foot.removeFromRight (take.fittingWidth()));
    foot.removeFromRight (8);
    speed.setBounds (foot);
    foot = box.removeFromBottom (28);
    foot.setX (foot.getX() - 8);
    for (auto* button : { &shot, &run, &whole })
        button->setBounds (foot.removeFromLeft (button->fittingWidth()));
    const int high = std::min (static_cast<int> (usual.rows.size()) * usualHeight, std::max (3 * usualHeight, box.getHeight() / 2));
    table.setBounds (box.removeFromBottom (high).expanded (partEdge - 4, 0));
    tableHead = box.removeFromBottom (22).toFloat();
    list.setBounds (box.expanded (partEdge - 4, 0));
}

/// The speed along the film, as steps.
void SpeedsPart::paintCurve (juce::Graphics& g)
{
    const auto& colours = theme();
    g.setColour (colours.ground);
    g.fillRoundedRectangle (curveBox, 4.0f);
    if (runs.empty())
        return;
    auto box = curveBox.reduced (8, 8);
    const auto small = font (Face::numbers, size::small * 0.9f);
    auto slowest = runs.front().speed, fastest = runs.front().speed;
    time::Rational whole2;
    for (const auto& one : runs)
    {
        slowest = std::min (slowest, one.speed);
        fastest = std::max (fastest, one.speed);
        whole2 = whole2 + one.seconds;
    }
    const auto scale = box.removeFromLeft (46);
    const double low = time::toDouble (slowest) - 1, high = time::toDouble (fastest) + 1;
    const auto yOf = [&] (const time::Rational& of)
    { return box.getBottom() - static_cast<float> ((time::toDouble (of) - low) / (high - low)) * box.getHeight(); };
    for (const auto& of : { slowest, fastest })
        drawLine (g, text (time::speedName (of)), scale.withY (yOf (of) - 8).withHeight (16), small, colours.quiet);
    double at = 0;
    const double length = std::max (1e-9, time::toDouble (whole2));
    juce::Path path;
    for (const auto& one : runs)
    {
        const float left = box.getX() + static_cast<float> (at / length) * box.getWidth();
        at += time::toDouble (one.seconds);
        const float right = box.getX() + static_cast<float> (at / length) * box.getWidth();
        path.isEmpty() ? path.startNewSubPath (left, yOf (one.speed)) : path.lineTo (left, yOf (one.speed));
        path.lineTo (right, yOf (one.speed));
    }
    g.setColour (colours.woods);
    g.strokePath (path, juce::PathStrokeType (1.6f));
}

void SpeedsPart::paint (juce::Graphics& g)
{
    paintCurve (g);
    const auto columns = columnsIn (tableHead);
    const auto small = font (Face::words, size::small);
    const std::pair<juce::Rectangle<float>, const char*> heads[] = { { columns.speed, "film fr./s" },
                                                                     { columns.feet, "ft/min" },
                                                                     { columns.minutes, "min/1000 ft" },
                                                                     { columns.length, "film lasts" } };
    for (const auto& [box, words] : heads)
        drawLine (g, words, box, small, theme().quiet);
}

// ---- Usual speeds

std::string SpeedsPart::Usual::rowId (int row) const
{
    return "usual-" + time::speedText (rows[static_cast<std::size_t> (row)].speed);
}

juce::String SpeedsPart::Usual::rowName (int row) const
{
    const auto& is = rows[static_cast<std::size_t> (row)];
    return text (time::speedName (is.speed) + " film frames a second, " + time::decimalText (is.feetAMinute, 1) + " feet a minute, "
                 + time::decimalText (is.minutes, 2) + " minutes a 1000 feet, the film lasts " + time::clockText (is.seconds)
                 + (is.archive ? ", a rate of archive cinema packages" : ""));
}

bool SpeedsPart::Usual::rowChosen (int row) const
{
    return rows[static_cast<std::size_t> (row)].chosen;
}

void SpeedsPart::Usual::rowPressed (int row, const juce::ModifierKeys&)
{
    const auto typed = time::speedText (rows[static_cast<std::size_t> (row)].speed);
    part.speed.setText (text (typed), false);
    part.bench.speeds.type (typed);
}

void SpeedsPart::Usual::paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool)
{
    const auto& colours = theme();
    const auto& is = rows[static_cast<std::size_t> (row)];
    const auto columns = columnsIn (box.withTrimmedLeft (partEdge - 4));
    const auto numbers = font (Face::numbers, size::small);
    drawLine (g, text (time::speedName (is.speed)), columns.speed, numbers, colours.text);
    drawLine (g, text (time::decimalText (is.feetAMinute, 1)), columns.feet, numbers, colours.quiet);
    drawLine (g, text (time::decimalText (is.minutes, 2)), columns.minutes, numbers, colours.quiet);
    drawLine (g, text (time::clockText (is.seconds)) + (is.archive ? "  archive" : ""), columns.length, numbers, colours.text);
}
} // namespace shutterbeat::window
