#include "play/Reels.h"
#include "time/Text.h"
#include "window/Bench.h"

#include <algorithm>

namespace shutterbeat::window
{
bool Bench::needFilm()
{
    if (bookTimes)
        return true;
    complain ("There is no film on the bench yet. Open a book with Ctrl+O, or make one from a film with Ctrl+N.");
    return false;
}

bool Bench::tick()
{
    const bool another = transport.update();
    if (! paintTells)
        screen.put (machine.nanoseconds(), { transport.position(), transport.delivered() });
    return another;
}

void Bench::paintedNow()
{
    paintTells = true;
    screen.put (machine.nanoseconds(), { transport.position(), transport.delivered() });
}

std::string Bench::whereText (const film::Position& position) const
{
    const auto at = bookTimes->timings.times (position);
    return (at.timecode.empty() ? "delivered frame " + std::to_string (at.delivered) : at.timecode) + ", film frame "
           + std::to_string (at.filmFrame);
}

void Bench::goTo (const film::Position& position)
{
    transport.goTo (position);
    changed();
}

void Bench::goToTyped (const std::string& text)
{
    if (! needFilm())
        return;
    const auto offset = time::trimmed (text);
    if (! offset.empty() && (offset.front() == '+' || offset.front() == '-'))
    {
        const auto amount = offset.front() == '+' ? offset.substr (1) : offset;
        if (const auto frames = time::parseWhole (amount))
        {
            panel = Panel::ledger;
            return step (*frames);
        }
        // Seconds as they are delivered, to the delivered frame on screen that much later or earlier.
        if (amount.back() == 's')
            if (const auto seconds = time::parseRational (amount.substr (0, amount.size() - 1)))
            {
                const auto& rate = bookTimes->timings.delivery().rate.perSecond;
                panel = Panel::ledger;
                transport.goToDelivered (transport.deliveredInAll() + time::roundOf (*seconds * rate));
                return changed();
            }
        return complain ("\"" + std::string (offset) + "\" is no offset. +24 is film frames on, -1.5s is seconds back.");
    }
    const auto typed = film::parsePlace (text);
    if (! typed)
        return complain (typed.error().text());
    const auto found = bookTimes->timings.find (*typed);
    if (! found)
        return complain (found.error().text());
    panel = Panel::ledger;
    goTo (*found);
}

std::vector<film::Position> Bench::cutPositions() const
{
    std::vector<film::Position> heads;
    if (bookTimes)
        for (std::size_t i = 0; i < bookTimes->timings.edition().shots.size(); ++i)
            heads.push_back (bookTimes->timings.shotHead (i));
    return heads;
}

std::vector<film::Position> Bench::cardPositions() const
{
    std::vector<film::Position> cards;
    if (bookTimes)
        for (std::size_t i = 0; i < bookTimes->timings.edition().shots.size(); ++i)
            if (bookTimes->timings.edition().shots[i].kind == film::ShotKind::card)
                cards.push_back (bookTimes->timings.shotHead (i));
    return cards;
}

std::vector<film::Position> Bench::cuePositions() const
{
    std::vector<film::Position> ins;
    if (bookTimes)
        for (const auto& row : bookTimes->cues)
            if (const auto in = bookTimes->timings.find (row.cue.in))
                ins.push_back (*in);
    return ins;
}

void Bench::step (std::int64_t filmFrames)
{
    if (! needFilm())
        return;
    transport.step (filmFrames);
    changed();
}

void Bench::toNext (const std::vector<film::Position>& stops, const char* what)
{
    if (! needFilm())
        return;
    if (! transport.goToNext (stops))
        return say (std::string ("There is no ") + what + " after this.");
    changed();
}

void Bench::toPrevious (const std::vector<film::Position>& stops, const char* what)
{
    if (! needFilm())
        return;
    if (! transport.goToPrevious (stops))
        return say (std::string ("There is no ") + what + " before this.");
    changed();
}

void Bench::toHit (int direction)
{
    if (! needFilm())
        return;
    struct Stop
    {
        film::Position at;
        std::string id;
    };
    std::vector<Stop> stops;
    for (const auto& row : bookTimes->hits)
        if (const auto found = bookTimes->timings.find (row.hit.place); found && found->where != film::Position::Where::outside)
            stops.push_back ({ *found, row.hit.id });
    // Hits on one picture are visited one after another, so that each can be reached from the keys.
    const auto& now = transport.position();
    std::size_t current = stops.size();
    for (std::size_t i = 0; i < stops.size(); ++i)
        if (selected().size() == 1 && stops[i].id == selected().front() && ! play::comesBefore (stops[i].at, now)
            && ! play::comesBefore (now, stops[i].at))
            current = i;
    std::optional<std::size_t> wanted;
    if (current < stops.size())
    {
        if (direction > 0 && current + 1 < stops.size())
            wanted = current + 1;
        else if (direction < 0 && current > 0)
            wanted = current - 1;
    }
    else
        for (std::size_t i = 0; i < stops.size(); ++i)
        {
            if (direction < 0 && play::comesBefore (stops[i].at, now))
                wanted = i;
            if (direction > 0 && play::comesBefore (now, stops[i].at) && ! wanted)
                wanted = i;
        }
    if (! wanted)
        return say (direction > 0 ? "There is no hit after this." : "There is no hit before this.");
    history->select ({ stops[*wanted].id });
    goTo (stops[*wanted].at);
}

// ---- How it runs

void Bench::shuttle (int direction)
{
    if (! needFilm())
        return;
    transport.shuttle (direction);
    changed();
}

void Bench::crawl (int direction)
{
    if (direction == crawlDirection || (direction != 0 && ! needFilm()))
        return;
    crawlDirection = direction;
    if (direction == 0)
        transport.pause();
    else
        transport.crawl (direction);
    changed();
}

void Bench::nextPace()
{
    if (! needFilm())
        return;
    const auto running = transport.pace().running;
    if (running == play::Running::delivered)
    {
        transport.setPace ({ play::Running::book, {} });
        return say ("Plays at the book's running speeds, every film frame in turn.");
    }
    if (running == play::Running::book)
    {
        transport.setPace ({ play::Running::oneSpeed, oneSpeed });
        return say ("Plays at " + time::speedText (oneSpeed) + " film frames a second. Shift+S takes another speed.");
    }
    transport.setPace ({});
    say ("Plays as delivered: every delivered frame for its time.");
}

void Bench::paceTyped (const std::string& text)
{
    if (! needFilm())
        return;
    const auto speed = time::parseSpeed (time::trimmed (text));
    if (! speed)
        return complain (speed.error().text());
    oneSpeed = speed->value;
    transport.setPace ({ play::Running::oneSpeed, oneSpeed });
    panel = Panel::ledger;
    say ("Plays at " + time::speedText (oneSpeed) + " film frames a second; the book keeps its own speeds."
         + (speed->note.empty() ? "" : " " + speed->note + "."));
}

void Bench::nextPreRoll()
{
    const std::int64_t lengths[] = { 0, 1, 2, 3, 5, 10 };
    if (preRollBars > 0)
    {
        preRollBars = preRollBars < 4 ? preRollBars * 2 : 0;
        transport.setPreRoll (0);
        if (preRollBars == 0)
            return say ("No pre-roll: Shift+Space plays from here.");
        return say ("Pre-roll of " + std::to_string (preRollBars) + " bars of the cue here.");
    }
    const auto next = std::find_if (std::begin (lengths), std::end (lengths),
                                    [&] (std::int64_t length) { return transport.preRoll() < time::Rational (length); });
    if (next == std::end (lengths))
    {
        preRollBars = 1;
        transport.setPreRoll (0);
        return say ("Pre-roll of a bar of the cue here, where it has a tempo. Shift+Space plays from before here.");
    }
    transport.setPreRoll (*next);
    say ("Pre-roll of " + std::to_string (*next) + (*next == 1 ? " second" : " seconds")
         + ". Shift+Space plays from before here; a loop begins so much earlier.");
}

/// Seconds that so many bars before the picture on screen last in the cue that runs there; none where it has no tempo.
std::optional<time::Rational> Bench::barsBefore (int bars) const
{
    const auto& times = bookTimes->timings;
    const auto here = times.times (transport.position());
    for (const auto& row : bookTimes->cues)
    {
        if (! row.cue.tempo || ! row.barOne)
            continue;
        const auto in = times.find (row.cue.in), out = times.find (row.cue.out);
        if (! in || ! out || transport.position().reel != in->reel || play::comesBefore (transport.position(), *in)
            || ! play::comesBefore (transport.position(), *out))
            continue;
        const auto at = here.clock - *row.barOne;
        const auto bar = row.cue.tempo->barBeatOf (row.cue.tempo->beatOf (at)).bar;
        const auto before = row.cue.tempo->timeOf (row.cue.tempo->barStart (bar - bars));
        return at - before;
    }
    return {};
}

void Bench::playFromBefore()
{
    if (! needFilm())
        return;
    if (preRollBars > 0)
    {
        const auto seconds = barsBefore (preRollBars);
        if (! seconds)
            return complain ("No cue with a tempo runs at this picture, so it has no bars to play from. R chooses seconds.");
        transport.setPreRoll (*seconds);
        transport.playFromBefore();
        transport.setPreRoll (0);
        return changed();
    }
    transport.playFromBefore();
    changed();
}

std::string Bench::runningText() const
{
    std::string text;
    const auto add = [&] (const std::string& words) { text += (text.empty() ? "" : ", ") + words; };
    const auto factor = transport.factor();
    const auto size = factor.sign() < 0 ? -factor : factor;
    if (size.sign() != 0 && size != time::Rational (1))
        add (size < time::Rational (1) ? time::fractionText (size) + " of the speed"
                                       : time::fractionText (size) + " times the speed");
    if (factor.sign() < 0)
        add ("back");
    if (transport.pace().running == play::Running::book)
        add ("at the book's speeds");
    else if (transport.pace().running == play::Running::oneSpeed)
        add ("at " + time::speedName (transport.pace().speed) + " film fr./s");
    if (transport.loop())
        add ("loop");
    return text;
}

void Bench::setSound (const SoundWish& wish)
{
    theSoundWish = wish;
    theSoundWish.gainDb = std::clamp (wish.gainDb, -60, 12);
    theSoundWish.offsetMs = std::clamp (wish.offsetMs, -1000, 1000);
    if (onSound)
        onSound();
    if (onCommand)
        onCommand();
    changed();
}

// ---- Loop

void Bench::setLoop (const play::Range& range)
{
    if (! transport.setLoop (range))
        return complain ("A loop ends after it begins. I marks its begin, O its end.");
    loopPending.reset();
    say ("Loop from " + whereText (range.in) + " to " + whereText (range.out) + ". L takes it out again.");
}

void Bench::loopBegin()
{
    if (! needFilm())
        return;
    const auto here = transport.position();
    if (transport.loop() && play::comesBefore (here, transport.loop()->out))
        return setLoop ({ here, transport.loop()->out });
    transport.setLoop ({});
    loopPending = here;
    say ("A loop begins at " + whereText (here) + ". O ends it.");
}

void Bench::loopEnd()
{
    if (! needFilm())
        return;
    const auto begin = loopPending ? loopPending : transport.loop() ? std::optional (transport.loop()->in) : std::nullopt;
    if (! begin)
        return complain ("Mark the loop's begin first, with I.");
    // The picture on screen is the last of the loop.
    const auto& times = bookTimes->timings;
    auto out = play::stepped (times, transport.position(), 1);
    if (! play::comesBefore (transport.position(), out))
        out = times.shotHead (times.edition().shots.size());
    setLoop ({ *begin, out });
}

void Bench::toggleLoop()
{
    if (! needFilm())
        return;
    if (transport.loop())
    {
        transport.setLoop ({});
        return say ("Loop off.");
    }
    const auto& times = bookTimes->timings;
    const auto overCue = [&] (const spotting::CueTimes& row)
    {
        const auto in = times.find (row.cue.in), out = times.find (row.cue.out);
        if (in && out)
            setLoop ({ *in, *out });
        return in && out;
    };
    for (const auto& row : bookTimes->cues)
        if (isSelected (row.cue.id) && overCue (row))
            return;
    std::optional<play::Range> span;
    for (const auto& id : selected())
        if (const auto* hit = spotting::hitOf (book(), id))
            if (const auto at = times.find (hit->place))
            {
                if (! span)
                    span = play::Range{ *at, *at };
                else if (play::comesBefore (*at, span->in))
                    span->in = *at;
                else if (play::comesBefore (span->out, *at))
                    span->out = *at;
            }
    if (span && play::comesBefore (span->in, span->out))
        return setLoop (*span);
    const auto& here = transport.position();
    for (const auto& row : bookTimes->cues)
    {
        const auto in = times.find (row.cue.in), out = times.find (row.cue.out);
        if (in && out && ! play::comesBefore (here, *in) && play::comesBefore (here, *out) && overCue (row))
            return;
    }
    complain ("Nothing to play over and over: select a cue or two hits, or mark a stretch with I and O.");
}
} // namespace shutterbeat::window
