#include "window/SpottingPart.h"

namespace shutterbeat::window
{
void SpottingPart::paintHit (juce::Graphics& g, std::size_t index, juce::Rectangle<float> box, bool chosen)
{
    const auto& colours = theme();
    const auto& row = bench.times()->hits[index];
    const auto columns = columnsIn (box);
    const auto numbers = font (Face::numbers, size::small);
    const auto words = font (Face::words, size::small);
    const auto ink = row.hit.agreed ? colours.woods : colours.text;
    drawMark (g, columns.mark.withSizeKeepingCentre (14, 14).translated (-4, 1.5f), row.hit.kind, row.hit.weight, ! row.hit.agreed,
              row.at ? ink : colours.rose, colours.quiet);
    if (row.at)
    {
        drawLine (g, row.at->timecode.empty() ? juce::String (row.at->delivered) : text (row.at->timecode), columns.time, numbers,
                  colours.text);
        drawLine (g, juce::String (row.at->filmFrame) + (row.at->notShown ? "*" : ""), columns.frame, numbers, colours.quiet,
                  juce::Justification::centredRight);
    }
    else
    {
        g.setColour (colours.rose);
        g.fillPath (signShape (Sign::brokenTick, columns.time.withWidth (11).withSizeKeepingCentre (11, 11)));
        drawLine (g, "lost", columns.time.withTrimmedLeft (17), words, colours.rose);
    }
    if (! naming || namingId != row.hit.id)
    {
        const bool card = row.hit.kind == spotting::HitKind::card && ! row.hit.label.empty();
        const bool unnamed = row.hit.label.empty();
        drawLine (g,
                  unnamed ? (chosen ? juce::String ("Enter names it") : juce::String::fromUTF8 ("\xe2\x80\x93"))
                          : text (row.hit.label),
                  columns.label, card ? font (Face::card, 17.0f) : font (Face::words, size::usual),
                  unnamed ? colours.quiet : colours.text);
    }
    drawLine (g, text (std::string (spotting::hitKindName (row.hit.kind))), columns.kind, words, colours.quiet);
    drawLine (g, text (std::string (spotting::weightName (row.hit.weight))), columns.weight, words,
              row.hit.weight == spotting::Weight::must ? colours.text : colours.quiet);
}

void SpottingPart::paintCue (juce::Graphics& g, std::size_t index, juce::Rectangle<float> box, bool)
{
    const auto& colours = theme();
    const auto& row = bench.times()->cues[index];
    const auto numbers = font (Face::numbers, size::small);
    box.reduce (12.0f, 0);
    drawLine (g, text (row.cue.number), box.removeFromLeft (52.0f), numbers, colours.night);
    const auto times = row.in && row.out ? text (row.in->timecode + "  " + row.out->timecode) : juce::String ("lost");
    const auto label = box.removeFromRight (textWidth (numbers, times) + 4);
    drawLine (g, times, label, numbers, row.in && row.out ? colours.text : colours.rose, juce::Justification::centredRight);
    if (! naming || namingId != row.cue.id)
        drawLine (g, row.cue.title.empty() ? juce::String::fromUTF8 ("\xe2\x80\x93") : text (row.cue.title),
                  box.withTrimmedRight (8), font (Face::words, size::usual), row.cue.title.empty() ? colours.quiet : colours.text);
}

void SpottingPart::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    g.fillAll (colours.panel);
    const bool hits = bench.page == LedgerPage::hits;
    if (hits)
        drawLine (g, "Film fr.", columnsIn (headOfColumns()).frame, font (Face::words, size::small), colours.quiet,
                  juce::Justification::centredRight);
    const auto narrowed = order.size() < all ? juce::String (order.size()) + " of " + juce::String (all) : juce::String ("Find");
    drawLine (g, narrowed, getLocalBounds().withHeight (findHeight).reduced (12, 3).removeFromLeft (76).toFloat(),
              font (Face::words, size::small), order.size() < all ? colours.lamp : colours.quiet);
    auto foot = getLocalBounds().removeFromBottom (footHeight).reduced (14, 6).toFloat();
    const auto small = font (Face::words, size::small);
    const char* first = hits ? "H places a hit here   Enter names   Shift+Enter note" : "C begins a cue here   Shift+C ends it";
    const char* second =
        hits ? "K kind   W weight   Y agreed   Alt+arrows move   Delete" : "Enter names   Delete removes   A puts selected hits in";
    drawLine (g, first, foot.removeFromTop (foot.getHeight() / 2), small, colours.quiet);
    drawLine (g, second, foot, small, colours.quiet);
    if (rowCount() > 0 || bench.times() == nullptr)
        return;
    auto box = listArea().reduced (24, 24).toFloat();
    if (all > 0)
        return drawLine (g, "None of the " + juce::String (all) + " is about that. Escape in the field shows all.",
                         box.removeFromTop (30), font (Face::words, size::usual), colours.quiet);
    drawLine (g, hits ? "No hits yet" : "No cues yet", box.removeFromTop (30), font (Face::strong, size::large), colours.text);
    const auto usual = font (Face::words, size::usual);
    drawLine (g, hits ? "Play with Space; press H" : "Go to where music starts and press C.", box.removeFromTop (24), usual,
              colours.quiet);
    if (hits)
        drawLine (g, "where the music should answer.", box.removeFromTop (24), usual, colours.quiet);
    box.removeFromTop (8);
    if (hits)
        drawLine (g, "Ctrl+P proposes hits on every cut and card.", box.removeFromTop (24), font (Face::words, size::usual),
                  colours.quiet);
}
} // namespace shutterbeat::window
