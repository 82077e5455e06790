#include "spotting/Edit.h"

#include "spotting/CardEdit.h"
#include "spotting/Ids.h"
#include "time/Clock.h"
#include "time/Reach.h"

#include <algorithm>
#include <map>
#include <set>

namespace shutterbeat::spotting
{
namespace
{
Result<Done> checkHit (const Book& book, const HitPoint& hit)
{
    const std::string where = "hit " + (hit.label.empty() ? hit.id : "\"" + hit.label + "\"");
    if (! hit.cue.empty() && cueOf (book, hit.cue) == nullptr)
        return usageError (where, "names cue " + hit.cue + ", which the book does not have");
    if (hit.earlyMs < 0 || hit.lateMs < 0)
        return usageError (where, "its limits are milliseconds from zero up");
    if (! time::withinReach (hit.lead))
        return usageError (where, "its lead is no number of seconds, or too large or too fine a one");
    return Done{};
}

/// A time for a message: the label, or the clock at a rate without timecode.
std::string shownTime (const film::PlaceTimes& times)
{
    return times.timecode.empty() ? time::clockText (times.clock) : times.timecode;
}

Result<Done> checkCue (const Cue& cue, const film::Timings& timings)
{
    const std::string where = "cue " + cue.number;
    if (! cue.barOne.seconds.valid())
        return usageError (where, "bar 1 is not a number of seconds from what it is pinned to");
    const auto in = timings.find (cue.in);
    const auto out = timings.find (cue.out);
    if (in && out)
    {
        const auto inTimes = timings.times (*in), outTimes = timings.times (*out);
        if (outTimes.reel < inTimes.reel || (outTimes.reel == inTimes.reel && outTimes.clock <= inTimes.clock))
            return usageError (where,
                               "its out (" + shownTime (outTimes) + ") has to come after its in (" + shownTime (inTimes) + ")");
    }
    return Done{};
}

bool isZero (const std::variant<std::int64_t, time::Rational>& offset)
{
    if (const auto* frames = std::get_if<std::int64_t> (&offset))
        return *frames == 0;
    return std::get<time::Rational> (offset) == time::Rational (0);
}

template <class T>
Result<std::vector<T>> without (const Section<T>& section, const std::vector<std::string>& ids, const char* what)
{
    const std::set<std::string> gone (ids.begin(), ids.end());
    std::vector<T> kept;
    std::size_t removed = 0;
    for (const auto& item : section)
        if (gone.count (item.id) > 0)
            ++removed;
        else
            kept.push_back (item);
    if (removed != gone.size())
        for (const auto& id : gone)
            if (std::none_of (section.begin(), section.end(), [&] (const T& item) { return item.id == id; }))
                return usageError (std::string (what) + " " + id, "the book does not have it; nothing was removed");
    return kept;
}
} // namespace

Result<Edited> addHits (const Book& book, const std::string& person, std::vector<HitPoint> hits)
{
    for (const auto& hit : hits)
        if (auto fit = checkHit (book, hit); ! fit)
            return fit.error();
    Edited edited{ book, {} };
    auto ids = takeIds (edited.book, person, hits.size());
    if (! ids)
        return ids.error();
    auto list = book.hits.list();
    for (std::size_t i = 0; i < hits.size(); ++i)
    {
        hits[i].id = (*ids)[i];
        list.push_back (std::move (hits[i]));
    }
    edited.book.hits = std::move (list);
    edited.ids = std::move (*ids);
    return edited;
}

Result<Book> setHit (const Book& book, const HitPoint& hit)
{
    return setHits (book, { hit });
}

Result<Book> setHits (const Book& book, const std::vector<HitPoint>& hits)
{
    auto list = book.hits.list();
    for (const auto& hit : hits)
    {
        if (auto fit = checkHit (book, hit); ! fit)
            return fit.error();
        const auto found = std::find_if (list.begin(), list.end(), [&] (const HitPoint& h) { return h.id == hit.id; });
        if (found == list.end())
            return usageError ("hit " + hit.id, "the book does not have it");
        *found = hit;
    }
    Book changed = book;
    changed.hits = std::move (list);
    return changed;
}

Result<Book> removeHits (const Book& book, const std::vector<std::string>& ids)
{
    auto kept = without (book.hits, ids, "hit");
    if (! kept)
        return kept.error();
    Book changed = book;
    changed.hits = std::move (*kept);
    return changed;
}

Result<Edited> addCue (const Book& book, const std::string& person, Cue cue, const film::Timings& timings)
{
    if (auto fit = checkCue (cue, timings); ! fit)
        return fit.error();
    Edited edited{ book, {} };
    auto ids = takeIds (edited.book, person, 1);
    if (! ids)
        return ids.error();
    cue.id = ids->front();
    auto list = book.cues.list();
    list.push_back (std::move (cue));
    edited.book.cues = std::move (list);
    edited.ids = std::move (*ids);
    return edited;
}

Result<Book> setCue (const Book& book, const Cue& cue, const film::Timings& timings)
{
    if (auto fit = checkCue (cue, timings); ! fit)
        return fit.error();
    auto list = book.cues.list();
    const auto found = std::find_if (list.begin(), list.end(), [&] (const Cue& c) { return c.id == cue.id; });
    if (found == list.end())
        return usageError ("cue " + cue.id, "the book does not have it");
    *found = cue;
    Book changed = book;
    changed.cues = std::move (list);
    return changed;
}

Result<Book> removeCues (const Book& book, const std::vector<std::string>& ids)
{
    auto kept = without (book.cues, ids, "cue");
    if (! kept)
        return kept.error();
    auto hits = book.hits.list();
    bool freed = false;
    const auto names = [&] (const std::string& cue) { return std::find (ids.begin(), ids.end(), cue) != ids.end(); };
    for (auto& hit : hits)
        if (names (hit.cue))
        {
            hit.cue.clear();
            freed = true;
        }
    Book changed = book;
    changed.cues = std::move (*kept);
    if (freed)
        changed.hits = std::move (hits);
    // What it used of works goes with it; the works stay.
    if (auto uses = book.uses.list(); std::erase_if (uses, [&] (const WorkUse& use) { return names (use.cue); }) > 0)
        changed.uses = std::move (uses);
    // A sound counted from the in of a removed cue keeps that place, which says where it was; it is listed as lost.
    if (auto sounds = book.sounds.list();
        std::any_of (sounds.begin(), sounds.end(), [&] (const Sound& s) { return names (s.cue); }))
    {
        for (auto& sound : sounds)
            if (names (sound.cue))
                sound.cue.clear();
        changed.sounds = std::move (sounds);
    }
    return changed;
}

Result<Book> setRunningSpeed (const Book& book, const std::string& edition, const time::Rational& speed)
{
    if (speed.sign() <= 0)
        return usageError ("running speed", "has to be above zero film frames a second");
    auto editions = book.editions.list();
    const auto found = std::find_if (editions.begin(), editions.end(), [&] (const auto& e) { return e.letter == edition; });
    if (found == editions.end())
        return usageError ("edition " + edition, "the book does not have it");
    found->speed = speed;
    for (auto& shot : found->shots)
        shot.speed.reset();
    Book changed = book;
    changed.editions = std::move (editions);
    return changed;
}

Book setDelivery (const Book& book, const film::Delivery& delivery)
{
    Book changed = book;
    changed.delivery = delivery;
    return changed;
}

Book setTitle (const Book& book, const std::string& title)
{
    Book changed = book;
    changed.title = title;
    return changed;
}

std::vector<HitPoint> proposedHits (const Book& book, const film::Edition& edition)
{
    using Use = std::pair<std::string, int>; // a shot, and which use of it in the edition
    std::vector<Use> uses;
    std::map<std::string, int> used;
    for (const auto& shot : edition.shots)
        uses.push_back ({ shot.id, used[shot.id]++ });

    std::set<Use> heads, tails; // edges that have a hit
    for (const auto& hit : book.hits)
        if (const auto* edge = std::get_if<film::EdgePlace> (&hit.place); edge != nullptr && isZero (edge->offset))
            (edge->edge == film::Edge::head ? heads : tails).insert ({ edge->shot, edge->instance });

    std::vector<HitPoint> proposed;
    for (std::size_t i = 0; i < edition.shots.size(); ++i)
    {
        const auto& shot = edition.shots[i];
        const bool card = shot.kind == film::ShotKind::card;
        // The tail of the shot before is this very cut.
        if ((i == 0 && ! card) || shot.kind == film::ShotKind::black || heads.count (uses[i]) > 0
            || (i > 0 && tails.count (uses[i - 1]) > 0))
            continue;
        HitPoint hit;
        hit.place = film::EdgePlace{ shot.id, film::Edge::head, std::int64_t{ 0 }, uses[i].second };
        hit.kind = card ? HitKind::card : HitKind::cut;
        hit.weight = Weight::may;
        hit.label = card ? (shot.wording.empty() ? "card " + shot.name : cardLabel (book, shot)) : "shot " + shot.name;
        hit.fromScan = true;
        proposed.push_back (std::move (hit));
    }
    return proposed;
}
} // namespace shutterbeat::spotting
