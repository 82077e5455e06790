#include "desk/ImportFiles.h"
#include "exchange/ReplyFile.h"
#include "spotting/Ids.h"
#include "spotting/SoundEdit.h"
#include "time/Text.h"

#include <algorithm>

namespace shutterbeat::desk
{
namespace
{
using spotting::HitPoint;

/// A sentence of the reader under what the note says already.
std::string withWords (const std::string& note, const std::string& who, const std::string& words)
{
    if (words.empty())
        return note;
    return note + (note.empty() ? "" : "\n") + who + ": " + words;
}

/// The hit as the reader wants it.
HitPoint answered (HitPoint hit, const exchange::HitReply& said, const std::string& who)
{
    if (said.weight)
        hit.weight = *said.weight;
    if (said.agreed)
        hit.agreed = *said.agreed;
    if (said.agreed && ! *said.agreed)
        hit.note = withWords (hit.note, who, "rather not" + (said.words.empty() ? std::string() : ". " + said.words));
    else
        hit.note = withWords (hit.note, who, said.words);
    hit.fromScan = false;
    return hit;
}

/// The two copies that a reply stands for: the book as its sender had it, and with what was said.
class Copies
{
public:
    Copies (const spotting::Book& book, const exchange::Reply& reply)
        : now (book)
        , before (book)
        , after (book)
        , sent (reply)
        , who (reply.personName.empty() ? reply.personId : reply.personName)
        , hitsBefore (book.hits.list())
        , hitsAfter (book.hits.list())
        , last (reply.lastNumber)
    {
        for (const auto& person : book.people)
            if (person.id == reply.personId)
                last = std::max (last, person.lastNumber);
    }

    void answer (const exchange::HitReply& said, const film::Timings& made, ImportPlan& plan);
    void add (const exchange::AddedHit& added, const film::Timings& made, ImportPlan& plan);
    void talk (const exchange::CueReply& said, ImportPlan& plan);
    Result<spotting::Merged> merged();

private:
    const spotting::Book& now;
    spotting::Book before, after;
    const exchange::Reply& sent;
    std::string who;
    [[nodiscard]] bool isTaken (const std::string& id) const
    {
        return spotting::cueOf (now, id) != nullptr || spotting::soundOf (now, id) != nullptr
               || std::any_of (hitsAfter.begin(), hitsAfter.end(), [&] (const HitPoint& hit) { return hit.id == id; });
    }

    std::vector<HitPoint> hitsBefore, hitsAfter;
    std::int64_t last; ///< number of the person that was given out
};

void Copies::answer (const exchange::HitReply& said, const film::Timings& made, ImportPlan& plan)
{
    const auto with = [&] (std::vector<HitPoint>& hits)
    { return std::find_if (hits.begin(), hits.end(), [&] (const HitPoint& hit) { return hit.id == said.id; }); };
    if (with (hitsBefore) == hitsBefore.end())
    {
        if (isTaken (said.id))
        {
            plan.bad.push_back ({ 0, "an answer to " + said.id + ", which is no hit of this book" });
            return;
        }
        // Taken away here since: the sender still had it, so it is in both copies.
        auto hit = said.sent;
        const auto typed = film::parsePlace (said.sentPlace);
        const auto place = typed ? made.placeFor (*typed) : Result<film::Place> (typed.error());
        if (! place)
        {
            plan.bad.push_back (
                { 0, "the answer to " + hitName (hit) + ", which the book no longer has: " + place.error().text() });
            return;
        }
        hit.id = said.id;
        hit.place = *place;
        hitsBefore.push_back (hit);
        hitsAfter.push_back (hit);
    }
    auto& was = *with (hitsBefore);
    was.weight = said.sent.weight;
    was.agreed = said.sent.agreed;
    was.note = said.sent.note;
    auto& is = *with (hitsAfter);
    const auto scanned = is.fromScan;
    is = answered (was, said, who);
    is.fromScan = scanned;
}

void Copies::add (const exchange::AddedHit& added, const film::Timings& made, ImportPlan& plan)
{
    auto hit = added.hit;
    if (added.reel >= made.reelCount())
    {
        plan.bad.push_back ({ 0, hitName (hit) + " is on reel " + std::to_string (added.reel + 1) + ", which the edition lacks" });
        return;
    }
    const auto place = placeOfDelivered (made, added.reel, added.delivered);
    if (! place)
    {
        plan.bad.push_back ({ 0, hitName (hit) + ": " + place.error().text() });
        return;
    }
    hit.place = edgeWhereUsual (made, *place, hit.kind);
    hit.askedBy = sent.personId;
    // The same reply once more: what became of the hit here since holds. Its id may be another's here, and its own a new one.
    for (const auto& known : now.hits)
        if (known.place == hit.place && (known.id == hit.id || (known.askedBy == hit.askedBy && known.label == hit.label)))
        {
            plan.notes.push_back (hitName (known) + " is in the book already");
            return;
        }
    if (! hit.cue.empty() && spotting::cueOf (now, hit.cue) == nullptr)
    {
        plan.notes.push_back (hitName (hit) + " was put into cue " + hit.cue + ", which the book no longer has");
        hit.cue.clear();
    }
    const bool theirOwn = time::startsWith (hit.id, sent.personId + "-");
    if (! theirOwn || isTaken (hit.id))
    {
        // Both gave that id meanwhile, to different things.
        const auto old = hit.id;
        hit.id = sent.personId + "-" + std::to_string (++last);
        plan.notes.push_back (hitName (hit) + " was " + old + " on the page, which is something else here");
    }
    hitsAfter.push_back (std::move (hit));
}

void Copies::talk (const exchange::CueReply& said, ImportPlan& plan)
{
    auto cues = after.cues.list();
    const auto cue = std::find_if (cues.begin(), cues.end(), [&] (const spotting::Cue& c) { return c.id == said.id; });
    if (cue == cues.end())
    {
        plan.bad.push_back ({ 0, "words on cue " + said.id + ", which the book no longer has: " + said.words });
        return;
    }
    // Words are added to what the note says now; said twice, they stand once.
    if (cue->note.find (who + ": " + said.words) == std::string::npos)
        cue->note = withWords (cue->note, who, said.words);
    after.cues = std::move (cues);
}

Result<spotting::Merged> Copies::merged()
{
    before.hits = std::move (hitsBefore);
    after.hits = std::move (hitsAfter);
    auto people = after.people.list();
    auto person = std::find_if (people.begin(), people.end(), [&] (const spotting::Person& p) { return p.id == sent.personId; });
    if (person == people.end() && ! sent.personId.empty())
    {
        people.push_back ({ sent.personId, who, "", 0, {} });
        person = people.end() - 1;
    }
    if (person != people.end())
        person->lastNumber = last;
    after.people = std::move (people);
    return spotting::mergeBooks (before, now, after);
}
} // namespace

Result<Done> importReply (const OpenBook& open, std::string_view bytes, const ImportWish&, ImportPlan& plan)
{
    const auto reply = exchange::readReply (bytes);
    if (! reply)
        return reply.error();
    auto named = open.book;
    if (const auto word = spotting::takeIds (named, reply->personId, 0); ! word)
        return unreadable ("reply", word.error().text());
    for (const auto& why : reply->bad)
        plan.bad.push_back ({ 0, why });
    if (reply->title != open.book.title)
        plan.notes.push_back ("the page was of a book called \"" + reply->title + "\"");
    auto asked = basisOf ({}, reply->edition, reply->finalRate, reply->fill);
    if (! asked)
        return asked.error();
    if (! reply->running.empty())
    {
        const auto speed = time::parseSpeed (reply->running);
        if (! speed)
            return speed.error();
        asked->running = speed->value;
    }
    // Frames of the page are of the edition and delivery that it was made for, whatever the book's are now.
    const auto made = spotting::timingsOf (open.book, *asked);
    if (! made)
        return made.error();
    Copies copies (open.book, *reply);
    for (const auto& said : reply->hits)
        copies.answer (said, *made, plan);
    for (const auto& added : reply->added)
        copies.add (added, *made, plan);
    for (const auto& said : reply->cues)
        copies.talk (said, plan);
    auto merged = copies.merged();
    if (! merged)
        return merged.error();
    using Kind = ImportChange::Kind;
    for (const auto& sentence : merged->brought)
        plan.changes.push_back ({ time::endsWith (sentence, "is new") ? Kind::added : Kind::changed, 0, sentence });
    plan.conflicts = std::move (merged->conflicts);
    plan.notes.insert (plan.notes.end(), merged->notes.begin(), merged->notes.end());
    plan.book = std::move (merged->book);
    return Done{};
}
} // namespace shutterbeat::desk
