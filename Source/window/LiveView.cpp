#include "window/LiveView.h"

#include "window/Controls.h"

#include <chrono>
#include <cmath>

namespace shutterbeat::window
{
namespace
{
constexpr int frames = 30; // drawn a second
// A dark theatre: nothing on this screen is brighter than a dimmed lamp.
const juce::Colour ground (0xff000000), dim (0xff8a7f72), lit (0xffc9bca9), lamp (0xffb88432), music (0xff5f8cab);

juce::String countdown (double seconds)
{
    if (seconds < 0)
        seconds = 0;
    if (seconds >= 60)
        return juce::String (static_cast<int> (seconds) / 60) + ":"
               + juce::String (static_cast<int> (seconds) % 60).paddedLeft ('0', 2);
    return juce::String (static_cast<int> (std::ceil (seconds)));
}

juce::String oneLine (const std::string& words)
{
    return text (words).replaceCharacters ("\n\r", "  ");
}

bool worthTelling (const play::ShowEvent& event)
{
    return event.kind != play::ShowKind::cut;
}
} // namespace

LiveView::LiveView (Bench& theBench)
    : bench (theBench)
{
    setComponentID ("live");
    setTitle ("Live showing");
    setOpaque (true);
    setMouseClickGrabsKeyboardFocus (false);
}

LiveView::~LiveView()
{
    listen (false);
    *here = nullptr;
    if (isVisible())
        juce::Desktop::setScreenSaverEnabled (true);
}

void LiveView::visibilityChanged()
{
    listen (isVisible());
    juce::Desktop::setScreenSaverEnabled (! isVisible());
    isVisible() ? startTimerHz (frames) : stopTimer();
}

void LiveView::listen (bool on)
{
    for (auto& input : inputs)
        input->stop();
    inputs.clear();
    if (! on)
        return;
    for (const auto& device : juce::MidiInput::getAvailableDevices())
        if (auto input = juce::MidiInput::openDevice (device.identifier, this))
        {
            input->start();
            inputs.push_back (std::move (input));
        }
}

/// Called on the device's own thread.
void LiveView::handleIncomingMidiMessage (juce::MidiInput*, const juce::MidiMessage& message)
{
    const bool pressed = message.isNoteOn() || (message.isController() && message.getControllerValue() >= 64);
    if (! pressed)
        return;
    const auto at =
        std::chrono::duration_cast<std::chrono::nanoseconds> (std::chrono::steady_clock::now().time_since_epoch()).count();
    juce::MessageManager::callAsync (
        [self = here, at]
        {
            if (*self != nullptr && (*self)->bench.live.isOpen())
                (*self)->bench.live.tap (at);
        });
}

void LiveView::mouseDown (const juce::MouseEvent&)
{
    bench.live.tap (bench.machineNow());
}

void LiveView::key (const juce::KeyPress& key, std::optional<std::int64_t> press, bool again)
{
    auto& live = bench.live;
    if (live.learning && ! key.isKeyCode (juce::KeyPress::escapeKey))
    {
        tapKey = key;
        live.learning = false;
        live.said = "The tap is " + key.getTextDescription().toStdString() + " now.";
        return;
    }
    if (key.isKeyCode (juce::KeyPress::escapeKey))
    {
        if (live.learning)
            live.learning = false;
        else if (! live.letters().empty())
            live.clearLetters();
        else
            live.close();
    }
    else if (key.isKeyCode (tapKey.getKeyCode()))
    {
        // A foot that stays on a pedal has tapped once.
        if (! again)
            live.tap (press.value_or (bench.machineNow()));
    }
    else if (key.isKeyCode (juce::KeyPress::returnKey))
        live.letters().empty() ? live.startOrHold() : live.jumpToMatch();
    else if (key.isKeyCode (juce::KeyPress::backspaceKey))
        live.letters().empty() ? live.takeBack() : live.dropLetter();
    else if (key.isKeyCode (juce::KeyPress::deleteKey))
        live.skipScene();
    else if (key.isKeyCode (juce::KeyPress::F2Key))
    {
        live.learning = true;
        live.said = "Press the key that is to be the tap. Pedals and MIDI keys tap as they are.";
    }
    else if (const auto typed = key.getTextCharacter(); juce::CharacterFunctions::isLetterOrDigit (typed) && typed < 128)
        live.typeLetter (static_cast<char> (typed));
}

void LiveView::paintNext (juce::Graphics& g, juce::Rectangle<float> box, double now)
{
    const auto& show = bench.live.show();
    const auto next = [&]() -> std::optional<std::size_t>
    {
        for (const auto event : show.coming (now, show.all().size()))
            if (worthTelling (show.all()[event]))
                return event;
        return {};
    }();
    const float unit = box.getHeight() / 10;
    if (! show.running() || ! next)
    {
        const auto words = ! next ? juce::String ("The end")
                           : show.taps() == 0 && show.reel() == 0
                               ? juce::String ("Ready")
                               : "Reel " + juce::String (static_cast<int> (show.reel()) + 1) + " of "
                                     + juce::String (static_cast<int> (show.reelCount()));
        drawLine (g, words, box, font (Face::card, unit * 2.2f), lit, juce::Justification::centred);
        return;
    }
    const auto& event = show.all()[*next];
    const bool card = event.kind == play::ShowKind::card;
    const double until = show.until (*next, now);
    auto label = box.removeFromTop (unit * 2.6f);
    const juce::String lead = event.kind == play::ShowKind::cueIn ? "Begin " : event.kind == play::ShowKind::cueOut ? "End " : "";
    g.setColour (event.kind == play::ShowKind::cueIn || event.kind == play::ShowKind::cueOut ? music : lit);
    g.setFont (font (card ? Face::card : Face::words, unit * (card ? 1.05f : 0.85f)));
    g.drawFittedText (lead + oneLine (event.label), label.toNearestInt(), juce::Justification::centredBottom, 2, 1.0f);
    const auto number = box.removeFromTop (unit * 5.2f);
    drawLine (g, countdown (until), number, font (Face::numbers, unit * 4.4f), until <= 3 ? lamp : lit,
              juce::Justification::centred);
    // The last ten seconds run out towards the middle, where the hit is.
    constexpr double shown = 10;
    auto bar = box.removeFromTop (unit * 0.5f).withSizeKeepingCentre (box.getWidth() * 0.7f, 6.0f);
    g.setColour (dim.withAlpha (0.25f));
    g.fillRoundedRectangle (bar, 3.0f);
    const auto left = static_cast<float> (std::min (1.0, std::max (0.0, until) / shown));
    g.setColour (until <= 3 ? lamp : dim);
    g.fillRoundedRectangle (bar.withSizeKeepingCentre (bar.getWidth() * left, 6.0f), 3.0f);
    drawLine (g, text (event.detail), box, font (Face::words, unit * 0.5f), dim, juce::Justification::centred);
}

void LiveView::paintComing (juce::Graphics& g, juce::Rectangle<float> box, double now)
{
    const auto& show = bench.live.show();
    const float row = std::max (26.0f, box.getHeight() / 9);
    if (const auto cue = show.cueNow (now))
    {
        const auto& is = show.all()[*cue];
        drawLine (g, "Now " + text (is.label), box.removeFromTop (row), font (Face::strong, row * 0.62f), music);
        drawLine (g, text (is.detail), box.removeFromTop (row * 0.8f), font (Face::words, row * 0.45f), dim);
    }
    else
        drawLine (g, "No music", box.removeFromTop (row), font (Face::words, row * 0.55f), dim);
    box.removeFromTop (row * 0.5f);
    bool first = true;
    for (const auto event : show.coming (now, show.all().size()))
    {
        const auto& is = show.all()[event];
        if (! worthTelling (is))
            continue;
        if (std::exchange (first, false))
            continue; // it stands large in the middle
        if (box.getHeight() < row)
            break;
        auto line = box.removeFromTop (row);
        drawLine (g, countdown (show.until (event, now)), line.removeFromLeft (row * 1.3f), font (Face::numbers, row * 0.42f), dim,
                  juce::Justification::centredRight);
        line.removeFromLeft (row * 0.35f);
        const bool card = is.kind == play::ShowKind::card;
        const bool cue = is.kind == play::ShowKind::cueIn || is.kind == play::ShowKind::cueOut;
        drawLine (g,
                  (is.kind == play::ShowKind::cueIn    ? "Begin "
                   : is.kind == play::ShowKind::cueOut ? "End "
                                                       : "")
                      + oneLine (is.label),
                  line, card ? font (Face::card, row * 0.52f) : font (Face::words, row * 0.42f), cue ? music : dim);
    }
}

void LiveView::paintLetters (juce::Graphics& g, juce::Rectangle<float> box)
{
    const auto& live = bench.live;
    const float row = std::max (26.0f, box.getHeight() / 9);
    drawLine (g, text (live.letters()) + juce::String::fromUTF8 ("\xe2\x80\xa6"), box.removeFromTop (row * 1.3f),
              font (Face::numbers, row * 0.8f), lamp);
    const auto found = live.matches();
    if (found.empty())
        return drawLine (g, "no card has a word that begins so", box.removeFromTop (row), font (Face::words, row * 0.5f), dim);
    for (std::size_t i = 0; i < found.size() && box.getHeight() >= row; ++i)
        drawLine (g, oneLine (live.show().all()[found[i]].label), box.removeFromTop (row), font (Face::card, row * 0.62f),
                  i == 0 ? lit : dim);
}

void LiveView::paintFoot (juce::Graphics& g, juce::Rectangle<float> box, double now)
{
    const auto& live = bench.live;
    const auto& show = live.show();
    const float line = box.getHeight() / 2;
    auto top = box.removeFromTop (line);
    const auto numbers = font (Face::numbers, line * 0.55f), words = font (Face::words, line * 0.5f);
    const double at = show.seconds (now);
    drawLine (g, juce::String (static_cast<int> (at) / 60) + ":" + juce::String (static_cast<int> (at) % 60).paddedLeft ('0', 2),
              top.removeFromLeft (line * 3.4f), numbers, lit);
    drawLine (g, "speed " + juce::String (show.speed() * 100, 1) + " %", top.removeFromLeft (line * 6.4f), numbers, lit);
    drawLine (g, juce::String::fromUTF8 ("\xc2\xb1") + juce::String (show.unsure (now), 2) + " s", top.removeFromLeft (line * 4.2f),
              numbers, dim);
    drawLine (g, text (live.said), top, words, lamp, juce::Justification::centredRight);
    drawLine (g,
              tapKey.getTextDescription()
                  + " taps a card or cut   Enter first picture, reel over   letters find a card   Delete scene is "
                    "missing   Backspace takes back   F2 another tap   Esc leaves",
              box, font (Face::words, line * 0.42f), dim);
}

void LiveView::paint (juce::Graphics& g)
{
    g.fillAll (ground);
    const double now = bench.live.clock();
    auto box =
        getLocalBounds().toFloat().reduced (static_cast<float> (getWidth()) * 0.03f, static_cast<float> (getHeight()) * 0.03f);
    paintFoot (g, box.removeFromBottom (std::max (56.0f, box.getHeight() * 0.09f)), now);
    box.removeFromBottom (box.getHeight() * 0.02f);
    const auto side = box.removeFromRight (box.getWidth() * 0.36f).withTrimmedLeft (box.getWidth() * 0.03f);
    bench.live.letters().empty() ? paintComing (g, side, now) : paintLetters (g, side);
    paintNext (g, box, now);
}
} // namespace shutterbeat::window
