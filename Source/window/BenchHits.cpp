#include "play/Reels.h"
#include "spotting/Edit.h"
#include "window/Bench.h"

#include <algorithm>

namespace shutterbeat::window
{
namespace
{
template <class Value>
Value nextOf (Value value, int count)
{
    return static_cast<Value> ((static_cast<int> (value) + 1) % count);
}

std::string counted (std::size_t number, const std::string& one)
{
    return std::to_string (number) + " " + one + (number == 1 ? "" : "s");
}
} // namespace

/// Hits on cuts and cards stand on the edge where they fall on one (DESIGN 1); every other on its picture.
film::Place Bench::keptPlace (spotting::HitKind kind, const film::Position& position) const
{
    const auto& times = bookTimes->timings;
    const bool onEdge = kind == spotting::HitKind::cut || kind == spotting::HitKind::card;
    if (onEdge && position.where == film::Position::Where::picture && position.frameInShot == 0)
    {
        const auto& shots = times.edition().shots;
        const auto& id = shots[position.shot].id;
        const auto before = std::count_if (shots.begin(), shots.begin() + static_cast<std::ptrdiff_t> (position.shot),
                                           [&] (const film::Shot& shot) { return shot.id == id; });
        return film::EdgePlace{ id, film::Edge::head, std::int64_t{ 0 }, static_cast<int> (before) };
    }
    return times.placeAt (position);
}

void Bench::removeSelected()
{
    if (! history || selected().empty())
        return say ("Nothing is selected. Click a hit or cue, or go to one with [ and ].");
    std::vector<std::string> hits, cues;
    for (const auto& id : selected())
    {
        if (spotting::hitOf (book(), id) != nullptr)
            hits.push_back (id);
        else if (spotting::cueOf (book(), id) != nullptr)
            cues.push_back (id);
    }
    spotting::Book changedBook = book();
    if (! hits.empty())
    {
        auto without = spotting::removeHits (changedBook, hits);
        if (! without)
            return complain (without.error().text());
        changedBook = std::move (*without);
    }
    if (! cues.empty())
    {
        auto without = spotting::removeCues (changedBook, cues);
        if (! without)
            return complain (without.error().text());
        changedBook = std::move (*without);
    }
    const std::string what = cues.empty()   ? counted (hits.size(), "hit")
                             : hits.empty() ? counted (cues.size(), "cue")
                                            : counted (hits.size(), "hit") + " and " + counted (cues.size(), "cue");
    did ("remove " + what, std::move (changedBook), {});
    say ("Removed " + what + ". Ctrl+Z brings back.");
}

void Bench::editHits (const std::string& name, const std::function<void (spotting::HitPoint&)>& change)
{
    if (! history)
        return;
    std::vector<spotting::HitPoint> hits;
    for (const auto& id : selected())
        if (const auto* hit = spotting::hitOf (book(), id))
        {
            hits.push_back (*hit);
            change (hits.back());
            hits.back().fromScan = false;
        }
    if (hits.empty())
        return say ("No hit is selected. Click one, or go to one with [ and ].");
    auto edited = spotting::setHits (book(), hits);
    if (! edited)
        return complain (edited.error().text());
    did (name, std::move (*edited), selected());
}

void Bench::editCues (const std::string& name, const std::function<void (spotting::Cue&)>& change)
{
    if (! needFilm())
        return;
    auto edited = book();
    bool any = false;
    for (const auto& id : selected())
        if (const auto* cue = spotting::cueOf (edited, id))
        {
            auto other = *cue;
            change (other);
            auto next = spotting::setCue (edited, other, bookTimes->timings);
            if (! next)
                return complain (next.error().text());
            edited = std::move (*next);
            any = true;
        }
    if (! any)
        return say ("No cue is selected. Click one.");
    did (name, std::move (edited), selected());
}

void Bench::cycleCueKind()
{
    constexpr int kinds = 4;
    editCues ("change kind of cue", [] (spotting::Cue& cue) { cue.kind = nextOf (cue.kind, kinds); });
}

void Bench::cycleCueStatus()
{
    constexpr int states = 6;
    editCues ("change status of cue", [] (spotting::Cue& cue) { cue.status = nextOf (cue.status, states); });
}

void Bench::nextAskedBy()
{
    if (! history)
        return;
    std::vector<std::string> people;
    for (const auto& one : book().people)
        people.push_back (one.id);
    if (std::find (people.begin(), people.end(), person) == people.end())
        people.push_back (person);
    std::string next = people.front();
    for (const auto& id : selected())
        if (const auto* hit = spotting::hitOf (book(), id))
        {
            const auto now = std::find (people.begin(), people.end(), hit->askedBy);
            next = now == people.end() || now + 1 == people.end() ? people.front() : *(now + 1);
            break;
        }
    editHits ("asked by", [&] (spotting::HitPoint& hit) { hit.askedBy = next; });
    say ("Asked by " + next + ".");
}

void Bench::rename (const std::string& id, const std::string& label)
{
    if (! history)
        return;
    if (const auto* hit = spotting::hitOf (book(), id))
    {
        auto renamed = *hit;
        renamed.label = label;
        renamed.fromScan = renamed.fromScan && label == hit->label;
        auto edited = spotting::setHit (book(), renamed);
        if (! edited)
            return complain (edited.error().text());
        did ("rename hit", std::move (*edited), selected());
    }
    else if (const auto* cue = spotting::cueOf (book(), id); cue != nullptr && bookTimes)
    {
        auto renamed = *cue;
        renamed.title = label;
        auto edited = spotting::setCue (book(), renamed, bookTimes->timings);
        if (! edited)
            return complain (edited.error().text());
        did ("rename cue", std::move (*edited), selected());
    }
}

void Bench::cycleKind()
{
    constexpr int kinds = 9;
    editHits ("change kind", [] (spotting::HitPoint& hit) { hit.kind = nextOf (hit.kind, kinds); });
}

void Bench::cycleWeight()
{
    constexpr int weights = 3;
    editHits ("change weight", [] (spotting::HitPoint& hit) { hit.weight = nextOf (hit.weight, weights); });
}

void Bench::toggleAgreed()
{
    bool all = true;
    for (const auto& id : selected())
        if (const auto* hit = history ? spotting::hitOf (book(), id) : nullptr)
            all = all && hit->agreed;
    editHits (all ? "open again" : "agree", [all] (spotting::HitPoint& hit) { hit.agreed = ! all; });
}

void Bench::nudge (std::int64_t filmFrames)
{
    if (! needFilm())
        return;
    editHits (selected().size() == 1 ? "move hit" : "move hits",
              [&] (spotting::HitPoint& hit)
              {
                  if (const auto at = bookTimes->timings.find (hit.place))
                      hit.place = keptPlace (hit.kind, play::stepped (bookTimes->timings, *at, filmFrames));
              });
    if (const auto* hit = selected().empty() ? nullptr : spotting::hitOf (book(), selected().front()))
        if (const auto at = bookTimes->timings.find (hit->place))
        {
            goTo (*at);
            say ("Moved to " + whereText (*at) + ".");
        }
}

void Bench::proposeHits()
{
    if (! needFilm())
        return;
    auto proposed = spotting::proposedHits (book(), bookTimes->timings.edition());
    if (proposed.empty())
        return say ("Every cut and card has its hit already.");
    auto edited = spotting::addHits (book(), "scan", std::move (proposed));
    if (! edited)
        return complain (edited.error().text());
    const auto number = edited->ids.size();
    did ("propose hits", std::move (edited->book), {});
    say (counted (number, "hit") + " proposed on cuts and cards.");
}

// ---- Cues

void Bench::cueIn()
{
    if (! needFilm())
        return;
    const auto at = transport.position();
    spotting::Cue cue;
    std::size_t number = book().cues.size() + 1;
    const auto numberTaken = [&] (const std::string& text)
    { return std::any_of (book().cues.begin(), book().cues.end(), [&] (const spotting::Cue& c) { return c.number == text; }); };
    cue.number = std::to_string (at.reel + 1) + "M" + std::to_string (number);
    while (numberTaken (cue.number))
        cue.number = std::to_string (at.reel + 1) + "M" + std::to_string (++number);
    cue.in = bookTimes->timings.placeAt (at);
    // It lasts until the next cue begins, or to picture end, until its out is set.
    film::Position out = bookTimes->timings.shotHead (bookTimes->timings.edition().shots.size());
    for (const auto& row : bookTimes->cues)
        if (const auto in = bookTimes->timings.find (row.cue.in); in && play::comesBefore (at, *in) && play::comesBefore (*in, out))
            out = *in;
    cue.out = bookTimes->timings.placeAt (out);
    auto edited = spotting::addCue (book(), person, cue, bookTimes->timings);
    if (! edited)
        return complain (edited.error().text());
    did ("add cue", std::move (edited->book), edited->ids);
    page = LedgerPage::cues;
    say ("Cue " + cue.number + " begins at " + whereText (at) + ". Shift+C ends it, Enter names it.");
}

void Bench::cueOut()
{
    if (! needFilm())
        return;
    const auto at = transport.position();
    // The selected cue, else the last one that begins before here.
    const spotting::Cue* cue = nullptr;
    for (const auto& id : selected())
        if (const auto* found = spotting::cueOf (book(), id))
            cue = found;
    if (cue == nullptr)
        for (const auto& row : bookTimes->cues)
            if (const auto in = bookTimes->timings.find (row.cue.in); in && play::comesBefore (*in, at))
                cue = spotting::cueOf (book(), row.cue.id);
    if (cue == nullptr)
        return complain ("No cue begins before this picture. C begins one here.");
    auto ended = *cue;
    ended.out = bookTimes->timings.placeAt (at);
    auto edited = spotting::setCue (book(), ended, bookTimes->timings);
    if (! edited)
        return complain (edited.error().text());
    did ("end cue", std::move (*edited), { ended.id });
    say ("Cue " + ended.number + " ends at " + whereText (at) + ".");
}

void Bench::putInCue()
{
    if (! needFilm())
        return;
    const auto at = transport.position();
    const spotting::Cue* cue = nullptr;
    for (const auto& row : bookTimes->cues)
    {
        const auto in = bookTimes->timings.find (row.cue.in);
        const auto out = bookTimes->timings.find (row.cue.out);
        if (in && out && ! play::comesBefore (at, *in) && play::comesBefore (at, *out))
            cue = spotting::cueOf (book(), row.cue.id);
    }
    const std::string id = cue == nullptr ? "" : cue->id;
    const std::string number = cue == nullptr ? "" : cue->number;
    if (id.empty())
        return complain ("No cue runs at this picture. Go to one, or begin one with C.");
    editHits ("put in cue " + number, [&] (spotting::HitPoint& hit) { hit.cue = id; });
}

// ---- Dragging

void Bench::beginDrag (const std::string& hit)
{
    const auto* found = history && bookTimes ? spotting::hitOf (book(), hit) : nullptr;
    if (found == nullptr)
        return;
    if (const auto at = bookTimes->timings.find (found->place))
        drag = HitDrag{ hit, *at, false, {} };
}

void Bench::dragTo (const film::Position& position, const std::string& snapped)
{
    if (! drag)
        return;
    drag->at = position;
    drag->moved = true;
    drag->snapped = snapped;
    message = { Message::Kind::note, "Lands on " + (snapped.empty() ? "" : snapped + ": ") + whereText (position)
                                         + (snapped.empty() ? ". " : ". Alt lets go of it. ") + "Escape leaves it where it was." };
    changed();
}

void Bench::dropDrag()
{
    if (! drag)
        return;
    const HitDrag dropped = *drag;
    drag.reset();
    const auto* hit = spotting::hitOf (book(), dropped.hit);
    if (! dropped.moved || hit == nullptr)
        return changed();
    const auto before = bookTimes->timings.find (hit->place);
    if (before && before->reel == dropped.at.reel && before->time == dropped.at.time)
        return say ("It stays where it was.");
    auto moved = *hit;
    moved.place = keptPlace (moved.kind, dropped.at);
    moved.fromScan = false;
    auto edited = spotting::setHit (book(), moved);
    if (! edited)
        return complain (edited.error().text());
    did ("move hit", std::move (*edited), { dropped.hit });
    transport.goTo (dropped.at);
    say ("Moved to " + whereText (dropped.at) + ".");
}

void Bench::cancelDrag()
{
    if (! drag)
        return;
    drag.reset();
    say ("Left where it was.");
}

// ---- Delivery

void Bench::setRate (const time::Rate& rate)
{
    if (! needFilm() || rate == book().delivery.rate)
        return;
    const auto change = [this, rate] (const std::optional<time::Rational>& from)
    {
        did ("final rate", spotting::setDelivery (book(), { rate, from }), selected());
        std::string text = "Final rate " + time::rateName (rate) + ". All times follow; no place has moved.";
        if (bookTimes)
            for (const auto& note : bookTimes->timings.notes())
                text += " " + note + ".";
        say (text);
    };
    // DESIGN: a book that moves between 24 and 25 is asked which way.
    const bool fast = book().delivery.countingRate() == time::Rational (24) && rate.perSecond == time::Rational (25);
    if (! fast)
        return change (film::usualFill (rate));
    ask ({ "From 24 to 25",
           "The disc runs a little faster than the cut was made at. Either every second keeps its length, or every frame "
           "does and the film ends 4 % earlier.",
           { { "true", "Keep the duration (true)", [change] { change ({}); } },
             { "from24", "Frame for frame from 24", [change] { change (time::Rational (24)); } },
             { "stay", "Stay at 24", {} } } });
}

void Bench::setFill (const std::optional<time::Rational>& from)
{
    if (! needFilm() || from == book().delivery.from)
        return;
    did ("fill", spotting::setDelivery (book(), { book().delivery.rate, from }), selected());
    say ("Fill: " + film::fillName (from) + ".");
}

void Bench::setSpeed (const time::Rational& speed)
{
    if (! needFilm())
        return;
    auto edited = spotting::setRunningSpeed (book(), bookTimes->timings.edition().letter, speed);
    if (! edited)
        return complain (edited.error().text());
    did ("running speed", std::move (*edited), selected());
    say ("Running speed " + time::speedText (speed) + " film frames a second. All times follow; no place has moved.");
}
} // namespace shutterbeat::window
