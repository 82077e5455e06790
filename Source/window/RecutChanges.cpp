#include "window/RecutChanges.h"

#include "time/Clock.h"
#include "window/Controls.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::window
{
namespace
{
constexpr float side = 12, markWidth = 22, costWidth = 44;

juce::String signedFrames (std::int64_t frames)
{
    return (frames > 0 ? "+" : "") + juce::String (frames) + " fr";
}

/// What happened at one spot of a cue, and how the picture's length changed there.
std::string changeText (const spotting::InsideChange& change)
{
    const auto amount = change.seconds.sign() < 0 ? -change.seconds : change.seconds;
    return spotting::insideText (change) + ", the picture " + time::secondsText (amount) + " s "
           + (change.seconds.sign() > 0 ? "longer" : "shorter");
}

juce::String hitText (const spotting::CarriedPlace& place)
{
    if (place.fate == spotting::Fate::lost)
        return text ("lost: " + place.why);
    juce::String said = place.fate == spotting::Fate::back ? juce::String ("back") : signedFrames (place.frames);
    if (place.trimmed != 0)
        said += ", " + juce::String (std::abs (place.trimmed)) + (place.trimmed > 0 ? " fr gone at it" : " fr more at it");
    return said;
}
} // namespace

void RecutChanges::add (Line line, float width)
{
    const auto face = font (line.what == What::change ? Face::strong : Face::words, size::usual);
    const auto all = juce::StringArray::fromTokens (line.words, " ", "");
    juce::String said;
    for (const auto& word : all)
    {
        const auto longer = said.isEmpty() ? word : said + " " + word;
        if (said.isNotEmpty() && textWidth (face, longer) > width)
        {
            line.words = said;
            lines.push_back (line);
            line.figures = {};
            said = word;
        }
        else
            said = longer;
    }
    line.words = said;
    lines.push_back (std::move (line));
}

void RecutChanges::addRemedies (float width)
{
    const auto& remedies = bench.recut.remedies();
    const auto* carried = bench.recut.carried();
    if (carried == nullptr || remedies.empty())
        return;
    lines.push_back ({ What::heading, 0, 0, "Inside cues, and what may be done; 1 is a clear but small blemish", {} });
    for (std::size_t i = 0; i < remedies.size(); ++i)
    {
        const auto& found = remedies[i];
        const auto& cue = carried->cues[found.cue];
        add ({ What::change, i, 0, text (cue.cue.number + "  " + changeText (cue.inside[found.change])), {} }, width);
        for (std::size_t w = 0; w < found.ways.size(); ++w)
            add ({ What::way, i, w, text (found.ways[w].text),
                   text (time::decimalText (time::Rational (std::llround (found.ways[w].cost * 100), 100), 2)) },
                 width - costWidth);
        for (const auto& note : found.notes)
            add ({ What::way, i, found.ways.size(), text ("(" + note + ")"), {} }, width - costWidth);
    }
}

void RecutChanges::refresh (float width)
{
    lines.clear();
    hits.clear();
    const float room = width - 2 * side;
    addRemedies (room);
    const auto& shots = bench.recut.changes();
    if (! lines.empty() && ! shots.empty())
        lines.push_back ({ What::heading, 0, 0, "Shots", {} });
    for (std::size_t i = 0; i < shots.size(); ++i)
    {
        const auto& change = shots[i];
        const auto at =
            change.newFirst >= 0 ? "frame " + juce::String (change.newFirst) : "was at " + juce::String (change.oldFirst);
        lines.push_back ({ What::shot, i, 0, text ("Shot " + change.shot + ": " + spotting::whatText (change)),
                           change.by == 0 ? at : at + "  " + signedFrames (change.by) });
    }
    if (const auto* carried = bench.recut.carried())
        for (const auto& hit : carried->hits)
            if (hit.place.fate != spotting::Fate::unmoved || hit.place.trimmed != 0)
                hits.push_back (&hit);
    if (! lines.empty() && ! hits.empty())
        lines.push_back ({ What::heading, 0, 0, "Hits", {} });
    for (std::size_t i = 0; i < hits.size(); ++i)
        lines.push_back ({ What::hit, i, 0,
                           hits[i]->hit.label.empty() ? juce::String ("a hit without a name") : text (hits[i]->hit.label),
                           hitText (hits[i]->place) });
}

juce::String RecutChanges::rowName (int row) const
{
    const auto& line = lines[static_cast<std::size_t> (row)];
    if (line.figures.isEmpty())
        return line.words;
    return line.what == What::way ? "cost " + line.figures + ": " + line.words : line.words + ", " + line.figures;
}

bool RecutChanges::rowChosen (int row) const
{
    const auto& line = lines[static_cast<std::size_t> (row)];
    return line.what == What::hit && bench.isSelected (hits[line.index]->hit.id);
}

void RecutChanges::goToChange (const Line& line)
{
    const auto& timings = bench.times()->timings;
    const auto& found = bench.recut.remedies()[line.index];
    // A way that changes a card shows the card, all else the spot where the picture changed.
    if (line.what == What::way && line.way < found.ways.size() && ! found.ways[line.way].cards.empty())
        return bench.goTo (timings.shotHead (found.ways[line.way].cards.front().shot));
    const auto& cue = bench.recut.carried()->cues[found.cue];
    auto frame = cue.inside[found.change].newFrame;
    for (std::size_t reel = 0; reel < timings.reelCount(); ++reel)
    {
        const auto frames = timings.filmTime (reel).frames();
        if (frame < frames || reel + 1 == timings.reelCount())
        {
            if (const auto at = timings.atFilmFrame (std::min (frame, frames), reel))
                bench.goTo (*at);
            return;
        }
        frame -= frames;
    }
}

void RecutChanges::rowPressed (int row, const juce::ModifierKeys&)
{
    const auto& line = lines[static_cast<std::size_t> (row)];
    if (bench.times() == nullptr || line.what == What::heading)
        return;
    const auto& timings = bench.times()->timings;
    if (line.what == What::hit)
    {
        bench.select ({ hits[line.index]->hit.id });
        if (const auto at = timings.find (hits[line.index]->hit.place))
            bench.goTo (*at);
        return;
    }
    if (line.what != What::shot)
        return goToChange (line);
    const auto& shots = timings.edition().shots;
    for (std::size_t i = 0; i < shots.size(); ++i)
        if (shots[i].id == bench.recut.changes()[line.index].id)
            return bench.goTo (timings.shotHead (i));
    bench.say ("That shot is not in this edition any more.");
}

void RecutChanges::paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool)
{
    const auto& colours = theme();
    const auto& line = lines[static_cast<std::size_t> (row)];
    box.reduce (side, 0);
    const auto words = font (Face::words, size::usual);
    const auto numbers = font (Face::numbers, size::small);
    if (line.what == What::heading)
        return drawLine (g, line.words, box, font (Face::words, size::small), colours.quiet);
    if (line.what == What::change)
        return drawLine (g, line.words, box, font (Face::strong, size::usual), colours.text);
    if (line.what == What::way)
    {
        drawLine (g, line.figures, box.removeFromLeft (costWidth), numbers, colours.quiet);
        return drawLine (g, line.words, box, words, line.words.startsWithChar ('(') ? colours.quiet : colours.text);
    }
    const bool lost = line.what == What::hit && hits[line.index]->place.fate == spotting::Fate::lost;
    const float width = std::min (box.getWidth() * 0.6f, textWidth (numbers, line.figures) + 6);
    drawLine (g, line.figures, box.removeFromRight (width), numbers, lost ? colours.rose : colours.quiet,
              juce::Justification::centredRight);
    if (line.what == What::hit)
    {
        const auto& hit = hits[line.index]->hit;
        drawMark (g, box.removeFromLeft (markWidth).withSizeKeepingCentre (14, 14).translated (-4, 1.5f), hit.kind, hit.weight,
                  ! hit.agreed, lost ? colours.rose : colours.text, colours.quiet);
    }
    drawLine (g, line.words, box, words, colours.text);
}
} // namespace shutterbeat::window
