#include "window/FilmPart.h"

#include "window/Actions.h"

#include <algorithm>

namespace shutterbeat::window
{
namespace
{
constexpr int factRow = 32, filmCurve = 96;

bool longEnough (const spotting::CardRow& card)
{
    return std::all_of (card.readable.begin(), card.readable.end(), [] (const spotting::Readable& by) { return by.enough; });
}
} // namespace

FilmPart::FilmPart (Bench& theBench)
    : bench (theBench)
    , all ("film.all", "Shots", WordButton::Style::column)
    , cardsOnly ("film.cards", "Cards", WordButton::Style::column)
    , speedsOf ("film.speeds", "Speeds", WordButton::Style::column)
    , printsOf ("film.prints", "Prints", WordButton::Style::column)
    , take ("film.take", "Take these cuts", WordButton::Style::raised)
    , curve (bench)
    , list (*this, "film.list", "Shots and cards", factRow)
    , speeds (bench)
    , prints (bench)
{
    setComponentID ("ledger.filmPart");
    setTitle ("Shots and cards");
    const auto shots = [this] (bool only)
    {
        onlyCards = only;
        bench.showPage (LedgerPage::film);
    };
    all.onClick = [shots] { shots (false); };
    cardsOnly.onClick = [shots] { shots (true); };
    speedsOf.onClick = [this] { bench.showPage (LedgerPage::speeds); };
    printsOf.onClick = [this] { bench.showPage (LedgerPage::prints); };
    take.onClick = [this] { bench.cuts.takeCuts(); };
    for (const char* id : { "film.cut", "film.join", "film.kind", "film.lock", "film.source", "film.readCards" })
    {
        const auto& action = actionNamed (id);
        auto button = std::make_unique<WordButton> (juce::String (id) + ".button", action.name, WordButton::Style::raised);
        button->setKeyShown (text (action.key));
        button->onClick = [this, &action] { perform (bench, action); };
        addAndMakeVisible (*button);
        corrections.push_back (std::move (button));
    }
    list.onMoved = [this] { placeWording(); };
    for (juce::Component* part :
         std::initializer_list<juce::Component*>{ &all, &cardsOnly, &speedsOf, &printsOf, &take, &curve, &list })
        addAndMakeVisible (part);
    addChildComponent (speeds);
    addChildComponent (prints);
}

int FilmPart::rowCount() const
{
    return static_cast<int> (shown.size());
}

const film::Shot& FilmPart::shot (int row) const
{
    return bench.times()->timings.edition().shots[shotOf (row)];
}

std::string FilmPart::rowId (int row) const
{
    // A shot may be used twice in an edition.
    return "shot-" + std::to_string (shotOf (row) + 1);
}

juce::String FilmPart::rowName (int row) const
{
    const auto& is = shot (row);
    const auto& timings = bench.times()->timings;
    return text (std::string (film::shotKindName (is.kind)) + " " + is.name + ", "
                 + timings.times (timings.shotHead (shotOf (row))).timecode + ", "
                 + (is.made ? "made" : std::to_string (is.frames()) + " film frames") + (is.remade ? ", remade" : "")
                 + (is.locked ? ", locked" : "") + (is.reason.empty() ? "" : ", " + is.reason)
                 + (is.wording.empty() ? "" : ", " + is.wording));
}

bool FilmPart::rowChosen (int row) const
{
    return shotOf (row) == bench.transport.position().shot;
}

void FilmPart::refresh()
{
    bench.cuts.refresh();
    shown.clear();
    cards.clear();
    cardOf.clear();
    if (const auto* times = bench.times())
    {
        const auto& shots = times->timings.edition().shots;
        cards = spotting::cardRows (bench.book(), times->timings);
        cardOf.assign (shots.size(), -1);
        for (std::size_t i = 0; i < cards.size(); ++i)
            cardOf[cards[i].shot] = static_cast<std::ptrdiff_t> (i);
        for (std::size_t i = 0; i < shots.size(); ++i)
            if (! onlyCards || shots[i].kind == film::ShotKind::card)
                shown.push_back (i);
        all.setWords ("Shots " + juce::String (shots.size()));
        cardsOnly.setWords ("Cards " + juce::String (cards.size()));
    }
    const bool listed = bench.page == LedgerPage::film;
    all.setToggleState (listed && ! onlyCards, juce::dontSendNotification);
    cardsOnly.setToggleState (listed && onlyCards, juce::dontSendNotification);
    speedsOf.setToggleState (bench.page == LedgerPage::speeds, juce::dontSendNotification);
    printsOf.setToggleState (bench.page == LedgerPage::prints, juce::dontSendNotification);
    for (juce::Component* part : std::initializer_list<juce::Component*>{ &take, &curve, &list })
        part->setVisible (listed);
    for (const auto& button : corrections)
        button->setVisible (listed);
    speeds.setVisible (bench.page == LedgerPage::speeds);
    prints.setVisible (bench.page == LedgerPage::prints);
    if (bench.page == LedgerPage::speeds)
        speeds.refresh();
    if (bench.page == LedgerPage::prints)
        prints.refresh();
    take.setEnabled (bench.cuts.result() != nullptr && ! bench.job);
    nowRow = -1;
    resized();
    list.refresh();
    curve.repaint();
    moved();
    repaint();
}

void FilmPart::moved()
{
    const auto here = bench.transport.position().shot;
    const auto after = std::upper_bound (shown.begin(), shown.end(), here);
    const int now = static_cast<int> (after - shown.begin()) - 1;
    curve.repaint();
    if (bench.page == LedgerPage::speeds)
        speeds.moved();
    if (now == nowRow)
        return;
    nowRow = now;
    if (now >= 0 && ! typing)
        list.bringIntoView (now);
    list.refresh();
}

void FilmPart::rowPressed (int row, const juce::ModifierKeys&)
{
    if (typing && typingShot != shot (row).id)
        closeWording (true);
    bench.goTo (bench.times()->timings.shotHead (shotOf (row)));
}

void FilmPart::rowDoublePressed (int row)
{
    if (shot (row).kind == film::ShotKind::card)
        typeWording (shotOf (row));
}

void FilmPart::paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool)
{
    const auto& colours = theme();
    const auto& is = shot (row);
    const auto& timings = bench.times()->timings;
    const auto numbers = font (Face::numbers, size::small), words = font (Face::words, size::small);
    box.reduce (12, 0);
    const auto sign = box.removeFromLeft (22).withSizeKeepingCentre (14, 14).translated (-4, 0);
    const bool card = is.kind == film::ShotKind::card;
    g.setColour (card ? colours.text : colours.quiet);
    if (is.kind == film::ShotKind::black)
        g.fillRect (sign.reduced (1, 3));
    else if (card)
        g.fillPath (markShape (spotting::HitKind::card, sign));
    else
        g.fillPath (markShape (spotting::HitKind::cut, sign));
    drawLine (g, text (is.name), box.removeFromLeft (40), words, colours.text);
    const auto head = timings.times (timings.shotHead (shotOf (row)));
    drawLine (g, head.timecode.empty() ? juce::String (head.delivered) : text (head.timecode), box.removeFromLeft (92), numbers,
              colours.text);
    drawLine (g, is.made ? juce::String ("made") : juce::String (is.frames()), box.removeFromLeft (44), numbers, colours.quiet,
              juce::Justification::centredRight);
    box.removeFromLeft (10);
    if (is.locked)
        drawLine (g, "locked", box.removeFromRight (46), words, colours.quiet, juce::Justification::centredRight);
    if (is.remade)
        drawLine (g, "remade", box.removeFromRight (54).withTrimmedRight (6), words, colours.quiet);
    if (card)
    {
        const auto& entry = cards[static_cast<std::size_t> (cardOf[shotOf (row)])];
        if (entry.flash || ! entry.readable.empty())
        {
            const bool fine = ! entry.flash && longEnough (entry);
            auto room = box.removeFromRight (entry.flash ? 56 : 18);
            g.setColour (fine ? colours.woods : colours.rose);
            g.fillPath (signShape (fine ? Sign::tick : Sign::brokenTick, room.removeFromLeft (18).withSizeKeepingCentre (11, 11)));
            if (entry.flash)
                drawLine (g, "flash", room, words, colours.rose);
        }
        if (typing && typingShot == is.id)
            return;
        const bool doubtful = entry.chosen && entry.chosen->doubtful;
        drawLine (g,
                  is.wording.empty() ? juce::String ("not read yet")
                                     : text (is.wording).replaceCharacter ('\n', ' ') + (doubtful ? " (?)" : ""),
                  box.withTrimmedRight (6), is.wording.empty() ? words : font (Face::card, 17.0f),
                  is.wording.empty() ? colours.quiet
                  : doubtful         ? colours.rose
                                     : colours.text);
        return;
    }
    if (! is.reason.empty())
        return drawLine (g, text (is.reason), box.withTrimmedRight (6), words, colours.quiet);
    // How sure the scan was of the cut at its head.
    auto bar = box.withTrimmedRight (8).withSizeKeepingCentre (box.getWidth() - 8, 4);
    bar = bar.withWidth (std::min (bar.getWidth(), 120.0f));
    g.setColour (colours.raised);
    g.fillRoundedRectangle (bar, 2);
    g.setColour (is.locked ? colours.woods : colours.night);
    g.fillRoundedRectangle (bar.withWidth (bar.getWidth() * static_cast<float> (juce::jlimit (0.0, 1.0, is.strength))), 2);
}

// ---- A card's wording, typed in place

void FilmPart::typeWording (std::size_t which)
{
    const auto& is = bench.times()->timings.edition().shots[which];
    typingShot = is.id;
    typing = std::make_unique<Field> ("film.wording", "Wording of the card");
    list.addAndMakeVisible (*typing);
    typing->setText (text (is.wording), false);
    typing->entered = [this] { closeWording (true); };
    typing->left = [this] { closeWording (false); };
    typing->onFocusLost = [this] { closeWording (true); };
    list.refresh();
    typing->grabKeyboardFocus();
}

void FilmPart::placeWording()
{
    if (! typing)
        return;
    for (int row = 0; row < rowCount(); ++row)
        if (shot (row).id == typingShot)
            typing->setBounds (list.boundsOf (row).withTrimmedLeft (220).withTrimmedRight (8).reduced (0, 2));
}

void FilmPart::closeWording (bool keep)
{
    if (! typing)
        return;
    const std::shared_ptr<Field> field = std::move (typing);
    field->onFocusLost = {};
    const auto words = field->getText().toStdString();
    const auto shotId = typingShot;
    typingShot.clear();
    if (field->hasKeyboardFocus (true))
        bench.giveKeysBack();
    list.removeChildComponent (field.get());
    // The call came from the field itself: it may go only when that has returned.
    juce::MessageManager::callAsync ([field] {});
    if (keep)
        for (const auto& is : bench.times()->timings.edition().shots)
            if (is.id == shotId && is.wording != words)
            {
                bench.cuts.setWording (shotId, words);
                break;
            }
    list.refresh();
}

void FilmPart::resized()
{
    auto box = getLocalBounds().reduced (partEdge, 0);
    auto head = box.removeFromTop (30);
    take.setBounds (head.removeFromRight (take.fittingWidth()).reduced (0, 1));
    head.setX (head.getX() - 8);
    all.setBounds (head.removeFromLeft (all.fittingWidth()));
    for (auto* button : { &cardsOnly, &speedsOf, &printsOf })
        button->setBounds (head.removeFromLeft (button->fittingWidth()));
    speeds.setBounds (getLocalBounds().withTrimmedTop (36));
    prints.setBounds (getLocalBounds().withTrimmedTop (36));
    box.removeFromTop (4);
    curve.setBounds (box.removeFromTop (filmCurve));
    box.removeFromTop (18);
    // Buttons in as many rows as they need.
    int rows = 1, x = 0;
    for (const auto& button : corrections)
    {
        if (x > 0 && x + button->fittingWidth() > box.getWidth())
            ++rows, x = 0;
        x += button->fittingWidth() + 6;
    }
    auto foot = box.removeFromBottom (rows * 36 + 10).withTrimmedTop (6);
    x = 0;
    int y = foot.getY();
    for (const auto& button : corrections)
    {
        if (x > 0 && x + button->fittingWidth() > box.getWidth())
            y += 36, x = 0;
        button->setBounds (foot.getX() + x, y, button->fittingWidth(), 32);
        x += button->fittingWidth() + 6;
    }
    list.setBounds (box.expanded (partEdge - 4, 0));
}

void FilmPart::paint (juce::Graphics& g)
{
    const auto* result = bench.cuts.result();
    if (result == nullptr || bench.page != LedgerPage::film)
        return;
    const auto line = juce::Rectangle<int> (partEdge, curve.getBottom(), getWidth() - 2 * partEdge, 18).toFloat();
    drawLine (g,
              "Threshold " + juce::String (bench.cuts.threshold(), 2) + " gives " + juce::String (result->shots.size())
                  + " shots in this reel. Draw the line to change it.",
              line, font (Face::words, size::small), theme().quiet);
}
} // namespace shutterbeat::window
