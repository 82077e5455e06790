#include "window/ReadoutView.h"

#include "time/Clock.h"
#include "window/Actions.h"

namespace shutterbeat::window
{
namespace
{
struct Shown
{
    const char* action;
    Sign sign;
    const char* key;
};
// Arrows are drawn by their names in few letters: the mono face has the arrows themselves.
const Shown shownButtons[] = { { "play.previousCut", Sign::cutBack, "\xe2\x86\x91" },
                               { "play.back", Sign::stepBack, "\xe2\x86\x90" },
                               { "play.toggle", Sign::play, "Space" },
                               { "play.forward", Sign::stepOn, "\xe2\x86\x92" },
                               { "play.nextCut", Sign::cutOn, "\xe2\x86\x93" } };
} // namespace

ReadoutView::ReadoutView (Bench& theBench)
    : bench (theBench)
{
    setComponentID ("readout");
    setTitle ("Where the film stands");
    for (const auto& shown : shownButtons)
    {
        const auto& action = actionNamed (shown.action);
        auto button = std::make_unique<WordButton> (text (action.id), text (action.name), WordButton::Style::quiet);
        button->setSign (shown.sign);
        button->setKeyShown (juce::String::fromUTF8 (shown.key));
        button->setTooltip (text (action.name) + "   " + text (action.key));
        button->onClick = [this, &action] { perform (bench, action); };
        if (action.id == "play.toggle")
            toggle = button.get();
        addAndMakeVisible (*button);
        buttons.push_back (std::move (button));
    }
}

void ReadoutView::refresh (bool isLate)
{
    late = isLate;
    toggle->setSign (bench.transport.playing() ? Sign::pause : Sign::play);
    toggle->setTitle (bench.transport.playing() ? "Pause" : "Play");
    for (auto& button : buttons)
        button->setEnabled (bench.times() != nullptr);
    repaint();
}

void ReadoutView::resized()
{
    auto box = getLocalBounds().reduced (6, 14);
    auto area = box.removeFromRight (buttonWidth() * static_cast<int> (std::size (shownButtons)));
    for (auto& button : buttons)
        button->setBounds (area.removeFromLeft (buttonWidth()).reduced (1, 0));
}

bool ReadoutView::narrow() const
{
    constexpr int roomForAll = 820;
    return getWidth() < roomForAll;
}

std::vector<ReadoutView::Count> ReadoutView::counts (const film::PlaceTimes& at) const
{
    const auto& times = bench.times()->timings;
    std::vector<Count> all{
        { "film frame", juce::String (at.filmFrame), 0 },
        { "feet", text (at.feet), 0 },
        { "clock", text (time::clockText (times.clockOf (bench.drag ? at.delivered : bench.transport.delivered()))), 0 }
    };
    // As wide as the longest value the film has, so that nothing moves or touches while it plays.
    const auto numbers = font (Face::numbers, narrow() ? size::usual : size::large);
    const auto last = times.times (times.shotHead (times.edition().shots.size()));
    const juce::String longest[] = { juce::String (last.filmFrame), text (last.feet),
                                     text (time::clockText (times.clockOf (last.delivered))) };
    for (std::size_t i = 0; i < all.size(); ++i)
        all[i].width = std::max ({ textWidth (numbers, longest[i]), textWidth (numbers, all[i].value),
                                   textWidth (font (Face::words, size::small), all[i].name) })
                       + (narrow() ? 14.0f : 24.0f);
    return all;
}

void ReadoutView::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    g.fillAll (colours.ground);
    const auto* times = bench.times();
    if (times == nullptr)
        return;
    const auto at = times->timings.times (bench.shown());
    // While a picture is held for several delivered frames, the timecode runs on with them.
    const auto delivered = bench.drag ? at.delivered : bench.transport.delivered();
    auto label = times->timings.timecodeOf (delivered, at.reel);
    if (label.empty())
        label = std::to_string (delivered);
    auto box = getLocalBounds().toFloat().reduced (12.0f, 0);
    box.removeFromRight (static_cast<float> (buttonWidth()) * static_cast<float> (std::size (shownButtons)));
    const auto clockFont = font (Face::clock, narrow() ? 30.0f : size::clock);
    const float width = textWidth (clockFont, text (label)) + 4.0f;
    drawLine (g, text (label), box.removeFromLeft (width).translated (0, -2.0f), clockFont,
              bench.transport.playing() ? colours.lamp : colours.text);
    box.removeFromLeft (narrow() ? 12.0f : 18.0f);
    for (const auto& count : counts (at))
    {
        if (box.getWidth() < count.width)
            break;
        auto column = box.removeFromLeft (count.width).withSizeKeepingCentre (count.width, 44.0f);
        drawLine (g, count.name, column.removeFromTop (16.0f), font (Face::words, size::small), colours.quiet);
        drawLine (g, count.value, column, font (Face::numbers, narrow() ? size::usual : size::large), colours.text);
    }
    const auto& shot = times->timings.edition().shots[bench.shown().shot];
    constexpr float roomForShot = 90.0f;
    if (box.getWidth() >= roomForShot)
    {
        auto column = box.withSizeKeepingCentre (box.getWidth(), 44.0f);
        const auto running = bench.runningText();
        const auto name = running.empty() ? std::string (film::shotKindName (shot.kind)) + " " + shot.name : running;
        drawLine (g, late ? juce::String ("picture is late") : text (name), column.removeFromTop (16.0f),
                  font (Face::words, size::small),
                  late              ? colours.rose
                  : running.empty() ? colours.quiet
                                    : colours.lamp);
        const bool card = shot.kind == film::ShotKind::card && ! shot.wording.empty();
        drawLine (g, card ? text (shot.wording) : juce::String (bench.shown().frameInShot) + " of " + juce::String (shot.frames()),
                  column, card ? font (Face::card, size::large) : font (Face::numbers, size::usual),
                  card ? colours.text : colours.quiet);
    }
}
} // namespace shutterbeat::window
