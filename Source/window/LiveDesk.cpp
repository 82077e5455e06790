#include "window/LiveDesk.h"

#include "spotting/CardEdit.h"
#include "time/Rational.h"
#include "time/Text.h"
#include "window/Bench.h"

#include <cmath>

namespace shutterbeat::window
{
namespace
{
std::string detailOf (const spotting::Cue& cue)
{
    std::string text = cue.title;
    if (cue.tempo)
        text += (text.empty() ? "" : ", ") + time::decimalText (cue.tempo->opening().beatsPerMinute, 0) + " beats a minute";
    if (! cue.mood.empty())
        text += (text.empty() ? "" : ", ") + cue.mood;
    return text;
}
} // namespace

double LiveDesk::clock() const
{
    return static_cast<double> (bench.machineNow()) / 1e9;
}

void LiveDesk::open()
{
    const auto* times = bench.times();
    if (times == nullptr)
        return bench.complain ("There is no film to show. Open a book with Ctrl+O.");
    const auto& timings = times->timings;
    const auto& edition = timings.edition();
    std::vector<play::ShowShot> shots;
    std::vector<play::ShowEvent> events;
    for (std::size_t i = 0; i < edition.shots.size(); ++i)
    {
        const auto& is = edition.shots[i];
        play::ShowShot shot;
        const double speed = oneSpeed ? *oneSpeed : time::toDouble (film::speedOf (edition, is)) * scale;
        shot.seconds = is.made ? time::toDouble (*is.made) : static_cast<double> (is.frames()) / speed;
        shot.reel = timings.shotHead (i).reel;
        shot.card = is.kind == film::ShotKind::card;
        shot.words = is.wording;
        events.push_back ({ shot.card ? play::ShowKind::card : play::ShowKind::cut, i, 0,
                            shot.card ? (is.wording.empty() ? "Card " + is.name : is.wording) : "Shot " + is.name, "" });
        shots.push_back (std::move (shot));
    }
    const auto add = [&] (play::ShowKind kind, const film::Place& place, const std::string& label, const std::string& detail)
    {
        const auto at = timings.find (place);
        if (! at || at->where == film::Position::Where::outside)
            return;
        const auto shot = std::min (at->shot, shots.size() - 1);
        const auto& is = edition.shots[shot];
        const double speed = oneSpeed ? *oneSpeed : time::toDouble (film::speedOf (edition, is)) * scale;
        const double into = at->where == film::Position::Where::end    ? shots[shot].seconds
                            : at->where == film::Position::Where::made ? time::toDouble (at->secondsInShot)
                                                                       : static_cast<double> (at->frameInShot) / speed;
        events.push_back ({ kind, shot, into, label, detail });
    };
    for (const auto& row : times->hits)
    {
        const auto at = timings.find (row.hit.place);
        const bool onHead = at && at->where == film::Position::Where::picture && at->frameInShot == 0;
        // A card's own hit is the card; a cut that only may be hit is no more than a cut.
        if (onHead && row.hit.kind == spotting::HitKind::card && shots[at->shot].card)
        {
            if (shots[at->shot].words.empty())
                shots[at->shot].words = events[at->shot].label = row.hit.label;
            continue;
        }
        if (row.hit.weight == spotting::Weight::may)
            continue;
        add (play::ShowKind::hit, row.hit.place,
             row.hit.label.empty() ? std::string (spotting::hitKindName (row.hit.kind)) : row.hit.label,
             std::string (spotting::weightName (row.hit.weight)));
    }
    for (const auto& row : times->cues)
    {
        add (play::ShowKind::cueIn, row.cue.in, row.cue.number, detailOf (row.cue));
        add (play::ShowKind::cueOut, row.cue.out, row.cue.number, "");
    }
    auto made = play::Showing::of (std::move (shots), std::move (events));
    if (! made)
        return bench.complain (made.error().text());
    showing = std::move (*made);
    before.clear();
    typed.clear();
    learning = false;
    said = "Enter when the first picture is on the screen.";
    bench.transport.pause();
    opened = true;
    bench.changed();
}

void LiveDesk::close()
{
    opened = false;
    bench.say ("The showing is closed.");
}

void LiveDesk::setHouse (const std::string& text)
{
    const auto words = std::string (time::trimmed (text));
    if (words.empty() || words == "book")
        oneSpeed.reset(), scale = 1;
    else if (words.back() == '%')
    {
        const auto read = time::parseRational (words.substr (0, words.size() - 1));
        const double part = read ? time::toDouble (*read) / 100 : 0;
        if (part < .5 || part > 2)
            return bench.complain ("A house speed is film frames a second, such as 18, or 50% to 200% of the book's speeds.");
        oneSpeed.reset();
        scale = part;
    }
    else
    {
        const auto read = time::parseSpeed (words);
        if (! read)
            return bench.complain (read.error().text());
        oneSpeed = time::toDouble (read->value);
    }
    open();
}

std::string LiveDesk::houseText() const
{
    if (oneSpeed)
        return time::shortDecimalText (time::Rational (std::llround (*oneSpeed * 100), 100), 2) + " film frames a second";
    return scale == 1 ? "the book's speeds" : std::to_string (std::llround (scale * 100)) + " % of the book's speeds";
}

void LiveDesk::keep()
{
    constexpr std::size_t most = 200;
    if (before.size() >= most)
        before.erase (before.begin());
    before.push_back (showing);
}

void LiveDesk::tap (std::int64_t at)
{
    keep();
    const auto event = showing.tap (static_cast<double> (at - bench.tapLate) / 1e9);
    if (! event)
    {
        before.pop_back();
        said = showing.running() ? "No card or cut is near: the tap was left out." : "The reel stands. Enter starts it.";
        return;
    }
    said = "Tapped: " + showing.all()[*event].label + ".";
}

void LiveDesk::startOrHold()
{
    keep();
    if (showing.running())
    {
        showing.reelOver (clock());
        said = "The reel is over. Enter at the first picture of reel " + std::to_string (showing.reel() + 1) + ".";
        return;
    }
    showing.firstPicture (clock());
    said = "Running.";
}

void LiveDesk::skipScene()
{
    const double now = clock();
    std::optional<std::size_t> card;
    for (const auto next : showing.coming (now, showing.all().size()))
        if (showing.all()[next].kind == play::ShowKind::card)
        {
            card = next;
            break;
        }
    if (! card)
    {
        said = "No card comes after this.";
        return;
    }
    keep();
    const auto here = showing.shotAt (now);
    showing.seen (*card, now, true);
    showing.strike (here, true);
    said = "Struck out up to: " + showing.all()[*card].label + ". Backspace takes it back.";
}

void LiveDesk::takeBack()
{
    if (before.empty())
    {
        said = "Nothing to take back.";
        return;
    }
    showing = before.back();
    before.pop_back();
    said = "Taken back.";
}

void LiveDesk::typeLetter (char letter)
{
    constexpr std::size_t most = 24;
    if (typed.size() < most)
        typed += letter;
}

void LiveDesk::dropLetter()
{
    if (! typed.empty())
        typed.pop_back();
}

std::vector<std::size_t> LiveDesk::matches() const
{
    return showing.cardsLike (typed, clock());
}

void LiveDesk::jumpToMatch()
{
    const auto found = matches();
    typed.clear();
    if (found.empty())
    {
        said = "No card has a word that begins so.";
        return;
    }
    keep();
    const double now = clock();
    // A card that is on long before its time: what should have come between is not in this print.
    constexpr double sooner = 4;
    const bool lacking = showing.running() && showing.until (found.front(), now) > sooner;
    showing.seen (found.front(), now, lacking);
    said = "On the screen: " + showing.all()[found.front()].label + ".";
}
} // namespace shutterbeat::window
