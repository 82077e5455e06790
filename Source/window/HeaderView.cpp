#include "window/HeaderView.h"

#include "window/Actions.h"
#include "window/DeliveryMenu.h"

#include <filesystem>

namespace shutterbeat::window
{
namespace
{
constexpr int lineHeight = 32;
constexpr float jobWidth = 380;
} // namespace

HeaderView::HeaderView (Bench& theBench)
    : bench (theBench)
    , speed ("header.speed", "Running speed", WordButton::Style::raised)
    , delivery ("header.delivery", "Final rate", WordButton::Style::raised)
{
    setComponentID ("header");
    setTitle ("Menus and delivery");
    for (const auto& name : menuNames())
    {
        auto menu = std::make_unique<WordButton> ("menu." + text (name), text (name), WordButton::Style::quiet);
        auto& it = *menu;
        it.onClick = [this, name, &it] { openMenu (name, it); };
        addAndMakeVisible (it);
        menus.push_back (std::move (menu));
    }
    speed.setTooltip ("Running speed: film frames a second");
    delivery.setTooltip ("Final rate and fill");
    speed.onClick = [this] { openSpeeds(); };
    delivery.onClick = [this] { openRates(); };
    addChildComponent (speed);
    addChildComponent (delivery);
}

void HeaderView::openMenu (const std::string& name, juce::Component& under)
{
    juce::PopupMenu menu;
    int id = 0;
    for (const auto& action : actions())
    {
        ++id;
        if (action.menu != name)
            continue;
        juce::PopupMenu::Item item (text (action.nameNow ? action.nameNow (bench) : action.name));
        item.itemID = id;
        item.shortcutKeyDescription = text (action.key);
        item.isEnabled = ! action.possible || action.possible (bench);
        item.isTicked = action.ticked && action.ticked (bench);
        menu.addItem (std::move (item));
    }
    juce::Component::SafePointer<HeaderView> self (this);
    menu.showMenuAsync (juce::PopupMenu::Options().withTargetComponent (under).withMinimumWidth (260),
                        [self] (int chosen)
                        {
                            if (self != nullptr && chosen > 0)
                                perform (self->bench, actions()[static_cast<std::size_t> (chosen - 1)]);
                        });
}

void HeaderView::openSpeeds()
{
    if (bench.times() == nullptr)
        return;
    juce::PopupMenu menu;
    const auto& edition = bench.times()->timings.edition();
    const auto& speeds = usualSpeeds();
    for (std::size_t i = 0; i < speeds.size(); ++i)
        menu.addItem (static_cast<int> (i + 1), text (time::speedText (speeds[i])) + " film frames a second", true,
                      speeds[i] == edition.speed);
    juce::Component::SafePointer<HeaderView> self (this);
    menu.showMenuAsync (juce::PopupMenu::Options().withTargetComponent (speed),
                        [self] (int chosen)
                        {
                            if (self != nullptr && chosen > 0)
                                self->bench.setSpeed (usualSpeeds()[static_cast<std::size_t> (chosen - 1)]);
                        });
}

void HeaderView::openRates()
{
    if (bench.times() == nullptr)
        return;
    juce::Component::SafePointer<HeaderView> self (this);
    openDeliveryMenu (delivery, bench.book().delivery, {},
                      [self] (const DeliveryChoice& choice)
                      {
                          if (self == nullptr)
                              return;
                          if (choice.rate)
                              self->bench.setRate (*choice.rate);
                          else if (choice.fill)
                              self->bench.setFill (*choice.fill);
                      });
}

void HeaderView::refresh()
{
    const auto* times = bench.times();
    speed.setVisible (times != nullptr);
    delivery.setVisible (times != nullptr);
    if (times != nullptr)
    {
        const auto& timings = times->timings;
        bool many = false;
        for (const auto& shot : timings.edition().shots)
            many = many || (shot.speed && *shot.speed != timings.edition().speed);
        speed.setWords (many ? juce::String ("several running speeds")
                             : text (film::speedSeenText (timings.edition().speed, timings.delivery())) + " film fr./s");
        delivery.setWords (deliveryWords (timings.delivery()));
    }
    resized();
    repaint();
}

void HeaderView::resized()
{
    auto box = getLocalBounds().reduced (8, 6);
    box.removeFromLeft (34);
    for (auto& menu : menus)
        menu->setBounds (box.removeFromLeft (menu->fittingWidth()));
    delivery.setBounds (box.removeFromRight (delivery.fittingWidth()));
    box.removeFromRight (6);
    speed.setBounds (box.removeFromRight (speed.fittingWidth()));
}

void HeaderView::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    g.fillAll (colours.ground);
    g.setColour (colours.lamp);
    g.fillPath (signShape (Sign::gate, juce::Rectangle<float> (14.0f, static_cast<float> (getHeight()) / 2 - 10, 20.0f, 20.0f)));
    if (! bench.hasBook())
        return;
    auto box = getLocalBounds().toFloat();
    box.setLeft (static_cast<float> (menus.back()->getRight()) + 12);
    box.setRight (static_cast<float> (speed.isVisible() ? speed.getX() : getWidth()) - 12);
    const auto title = text (bench.book().title);
    const auto strong = font (Face::strong, size::usual), words = font (Face::words, size::small);
    const auto rest = "Edition " + text (bench.book().edition) + (bench.dirty() ? "   not saved" : "");
    const float restWidth = textWidth (words, rest) + 14;
    const float titleWidth = std::min (textWidth (strong, title) + 2, std::max (0.0f, box.getWidth() - restWidth));
    auto line = box.withSizeKeepingCentre (std::min (box.getWidth(), titleWidth + restWidth), box.getHeight());
    drawLine (g, title, line.removeFromLeft (titleWidth), strong, colours.text);
    drawLine (g, rest, line.withTrimmedLeft (12), words, bench.dirty() ? colours.lamp : colours.quiet);
}

// ---- MessageLine

MessageLine::MessageLine (Bench& theBench)
    : bench (theBench)
    , away ("message.away", "Put away", WordButton::Style::quiet)
    , stop ("message.stop", "Stop", WordButton::Style::raised)
{
    setComponentID ("message");
    setTitle ("Message");
    away.setKeyShown ("Esc");
    away.onClick = [this] { bench.putMessageAway(); };
    addChildComponent (away);
    stop.onClick = [this] { bench.cancelJob(); };
    addChildComponent (stop);
}

void MessageLine::refresh()
{
    if ((bench.job != nullptr) != stop.isVisible())
    {
        stop.setVisible (bench.job != nullptr);
        bench.job != nullptr ? startTimerHz (12) : stopTimer();
        resized();
    }
    away.setVisible (bench.message.kind != Message::Kind::none);
    if (getDescription() != text (bench.message.text))
    {
        setDescription (text (bench.message.text));
        if (bench.message.kind != Message::Kind::none)
            juce::AccessibilityHandler::postAnnouncement (text (bench.message.text),
                                                          juce::AccessibilityHandler::AnnouncementPriority::medium);
    }
    setTooltip (text (bench.message.text));
    repaint();
}

void MessageLine::resized()
{
    auto line = getLocalBounds().removeFromBottom (lineHeight);
    if (stop.isVisible())
        stop.setBounds (line.removeFromRight (stop.fittingWidth()).reduced (0, 2));
    away.setBounds (line.removeFromRight (away.fittingWidth()).reduced (0, 1));
}

/// How far the work in the background is.
void MessageLine::paintJob (juce::Graphics& g, juce::Rectangle<float> box) const
{
    const auto words = font (Face::words, size::small);
    const auto said = text (bench.job->what) + "   " + juce::String (juce::roundToInt (bench.job->fraction * 100)) + " %";
    auto bar = box.removeFromRight (120).withSizeKeepingCentre (120, 6);
    box.removeFromRight (10);
    drawLine (g, said, box, words, theme().text, juce::Justification::centredRight);
    g.setColour (theme().raised);
    g.fillRoundedRectangle (bar, 3.0f);
    g.setColour (theme().lamp);
    g.fillRoundedRectangle (bar.withWidth (bar.getWidth() * static_cast<float> (bench.job->fraction.load())), 3.0f);
}

juce::TextLayout MessageLine::layoutFor (int width) const
{
    juce::AttributedString words;
    words.append (text (bench.message.text), font (Face::words, size::usual),
                  bench.message.kind == Message::Kind::problem ? theme().rose : theme().text);
    words.setWordWrap (juce::AttributedString::byWord);
    juce::TextLayout layout;
    constexpr int beside = 62; // margins and the sign
    const int job = bench.job == nullptr ? 0 : static_cast<int> (jobWidth) + stop.fittingWidth();
    layout.createLayout (words, static_cast<float> (std::max (200, width - away.fittingWidth() - job - beside)));
    return layout;
}

int MessageLine::heightFor (int width) const
{
    const auto lines = bench.message.kind == Message::Kind::none ? 1 : layoutFor (width).getNumLines();
    return lines <= 1 ? lineHeight : juce::roundToInt (layoutFor (width).getHeight()) + 16;
}

void MessageLine::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    g.fillAll (getHeight() > lineHeight ? colours.raised : colours.ground);
    auto box = getLocalBounds().toFloat().reduced (14, 0);
    if (stop.isVisible())
        box.removeFromRight (static_cast<float> (stop.getWidth()));
    if (away.isVisible())
        box.removeFromRight (static_cast<float> (away.getWidth()));
    if (bench.job != nullptr)
        paintJob (g, box.removeFromRight (jobWidth).removeFromBottom (static_cast<float> (lineHeight)));
    if (bench.message.kind == Message::Kind::none)
    {
        const auto clock = "F1 lists every action.   "
                           + (bench.noSound.empty() ? "Playing on the " + text (bench.transport.clock().name()) + "."
                                                    : "No sound: " + text (bench.noSound) + ".");
        return drawLine (g, clock, box, font (Face::words, size::small), colours.quiet);
    }
    const bool problem = bench.message.kind == Message::Kind::problem;
    g.setColour (problem ? colours.rose : colours.woods);
    g.fillPath (signShape (problem ? Sign::brokenTick : Sign::tick, box.removeFromLeft (14).withSizeKeepingCentre (12, 12)));
    const auto layout = layoutFor (getWidth());
    layout.draw (g, box.withTrimmedLeft (10).withSizeKeepingCentre (box.getWidth() - 10, layout.getHeight()));
}

// ---- EmptyView

EmptyView::EmptyView (Bench& bench)
    : open ("empty.open", "Open a book", WordButton::Style::raised)
    , make ("empty.new", "New book from a film", WordButton::Style::main)
{
    setComponentID ("empty");
    setTitle ("No book yet");
    open.setKeyShown ("Ctrl+O");
    make.setKeyShown ("Ctrl+N");
    open.onClick = [&bench] { perform (bench, actionNamed ("book.open")); };
    make.onClick = [&bench] { perform (bench, actionNamed ("book.new")); };
    addAndMakeVisible (make);
    addAndMakeVisible (open);
}

void EmptyView::resized()
{
    auto box = getLocalBounds().withSizeKeepingCentre (std::min (getWidth() - 40, 560), 260);
    auto row = box.removeFromBottom (40);
    make.setBounds (row.removeFromLeft (make.fittingWidth() + 12));
    row.removeFromLeft (10);
    open.setBounds (row.removeFromLeft (open.fittingWidth() + 12));
}

void EmptyView::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    g.fillAll (colours.ground);
    auto box = getLocalBounds().withSizeKeepingCentre (std::min (getWidth() - 40, 560), 260).toFloat();
    g.setColour (colours.lamp);
    g.fillPath (signShape (Sign::gate, box.removeFromTop (56).withWidth (56)));
    box.removeFromTop (18);
    drawLine (g, "No film in the gate", box.removeFromTop (44), font (Face::card, 36.0f), colours.text);
    box.removeFromTop (8);
    for (const char* line :
         { "Make a book from a film file, or open one.", "Cuts, cards and the cadence of repeats are found for you;",
           "then play with Space, and press H where the music should answer." })
        drawLine (g, line, box.removeFromTop (24), font (Face::words, size::usual), colours.quiet);
}
} // namespace shutterbeat::window
