#include "spotting/Merge.h"

#include "spotting/MergeFilm.h"
#include "spotting/MergeIds.h"
#include "spotting/MergeLog.h"

namespace shutterbeat::spotting
{
namespace
{
std::string quoted (const std::string& label)
{
    return label.empty() ? "" : " \"" + label + "\"";
}

/// Merges one field after the other of a thing that both have; what no line names stays mine.
template <class T>
class Fields
{
public:
    Fields (MergeLog& all, const MergeItem& named, const T& before, const T& here, const T& there)
        : log (all)
        , item (named)
        , base (before)
        , mine (here)
        , theirs (there)
        , merged (here)
    {
    }

    template <class Member>
    Fields& operator() (const char* name, Member member)
    {
        merged.*member = mergeField (log, item, name, base.*member, mine.*member, theirs.*member);
        return *this;
    }
    T done()
    {
        merged.unknown = mergeUnknown (log, item, base.unknown, mine.unknown, theirs.unknown);
        return std::move (merged);
    }
    T& sofar() { return merged; }

private:
    MergeLog& log;
    const MergeItem& item;
    const T& base;
    const T& mine;
    const T& theirs;
    T merged;
};

MergeItem itemOf (const HitPoint& hit)
{
    return { hit.id, "hit " + hit.id + quoted (hit.label) };
}

HitPoint mergeHit (MergeLog& log, const MergeItem& item, const HitPoint& base, const HitPoint& mine, const HitPoint& theirs)
{
    return Fields (log, item, base, mine, theirs) ("place", &HitPoint::place) ("kind", &HitPoint::kind) (
               "weight", &HitPoint::weight) ("label", &HitPoint::label) ("lead", &HitPoint::lead) ("early", &HitPoint::earlyMs) (
               "late", &HitPoint::lateMs) ("note", &HitPoint::note) ("asked by", &HitPoint::askedBy) ("agreed", &HitPoint::agreed) (
               "cue", &HitPoint::cue) ("typed", &HitPoint::typed) ("from scan", &HitPoint::fromScan)
        .done();
}

MergeItem itemOf (const Cue& cue)
{
    return { cue.id, "cue " + (cue.number.empty() ? cue.id : cue.number) + quoted (cue.title) };
}

Cue mergeCue (MergeLog& log, const MergeItem& item, const Cue& base, const Cue& mine, const Cue& theirs)
{
    return Fields (log, item, base, mine, theirs) ("number", &Cue::number) ("title", &Cue::title) ("in", &Cue::in) (
               "out", &Cue::out) ("kind", &Cue::kind) ("mood", &Cue::mood) ("status", &Cue::status) ("version", &Cue::version) (
               "tempo", &Cue::tempo) ("bar one", &Cue::barOne) ("note", &Cue::note)
        .done();
}

MergeItem itemOf (const Sound& sound)
{
    return { sound.id, "sound " + sound.id + quoted (sound.name) };
}

Sound mergeSound (MergeLog& log, const MergeItem& item, const Sound& base, const Sound& mine, const Sound& theirs)
{
    return Fields (log, item, base, mine, theirs) ("name", &Sound::name) ("file", &Sound::identity) ("rate", &Sound::rate) (
               "channels", &Sound::channels) ("samples", &Sound::samples) ("time stamp", &Sound::timeReference) (
               "kind", &Sound::kind) ("placed by", &Sound::placed) ("place", &Sound::place) ("gain", &Sound::gain) (
               "muted", &Sound::muted) ("cue", &Sound::cue) ("made for", &Sound::madeFor) ("note", &Sound::note)
        .done();
}

MergeItem itemOf (const Work& work)
{
    return { work.id, "work " + work.id + quoted (work.title) };
}

Work mergeWork (MergeLog& log, const MergeItem& item, const Work& base, const Work& mine, const Work& theirs)
{
    return Fields (log, item, base, mine, theirs) ("title", &Work::title) ("ISWC", &Work::iswc) ("writers", &Work::writers) (
               "publishers", &Work::publishers) ("shares", &Work::sum) ("protected", &Work::protectedByCopyright) ("note",
                                                                                                                   &Work::note)
        .done();
}

MergeItem itemOf (const Person& person)
{
    return { person.id, "person " + person.id };
}

Person mergePerson (MergeLog& log, const MergeItem& item, const Person& base, const Person& mine, const Person& theirs)
{
    auto merged = Fields (log, item, base, mine, theirs) ("name", &Person::name) ("role", &Person::role).done();
    merged.lastNumber = std::max (mine.lastNumber, theirs.lastNumber);
    return merged;
}

MergeItem itemOf (const Card& card)
{
    return { "card." + card.shot, "wordings of card " + card.shot };
}

Card mergeCard (MergeLog& log, const MergeItem& item, const Card& base, const Card& mine, const Card& theirs)
{
    auto merged = mine;
    merged.texts = mergeSet (log, item.what, base.texts, mine.texts, theirs.texts);
    merged.unknown = mergeUnknown (log, item, base.unknown, mine.unknown, theirs.unknown);
    return merged;
}

MergeItem itemOf (const PendingMatch& match)
{
    return { match.id, "doubtful match " + match.id };
}

PendingMatch mergeMatch (MergeLog& log, const MergeItem& item, const PendingMatch& base, const PendingMatch& mine,
                         const PendingMatch& theirs)
{
    return Fields (log, item, base, mine, theirs) ("answer", &PendingMatch::answer) ("moved", &PendingMatch::moved).done();
}

MergeItem itemOf (const Recut& recut)
{
    return { "recut." + recut.before + "." + recut.after, "recut from " + recut.before + " to " + recut.after };
}

Recut mergeRecut (MergeLog& log, const MergeItem& item, const Recut& base, const Recut& mine, const Recut& theirs)
{
    auto merged = mine;
    merged.matches = mergeList (
        log, base.matches, mine.matches, theirs.matches, [] (const PendingMatch& m) { return itemOf (m); },
        [&] (const MergeItem& one, const PendingMatch& b, const PendingMatch& m, const PendingMatch& t)
        { return mergeMatch (log, one, b, m, t); });
    merged.unknown = mergeUnknown (log, item, base.unknown, mine.unknown, theirs.unknown);
    return merged;
}

MergeItem itemOf (const UsageCode& usage)
{
    return { "usage." + usage.code, "usage code " + usage.code };
}

UsageCode mergeUsage (MergeLog& log, const MergeItem& item, const UsageCode& base, const UsageCode& mine, const UsageCode& theirs)
{
    return { mine.code, mergeField (log, item, "meaning", base.meaning, mine.meaning, theirs.meaning) };
}

MergeItem itemOf (const film::Print& print)
{
    return { print.id, "print " + print.id };
}

MergeItem itemOf (const film::Edition& edition)
{
    return { "edition." + edition.letter, "edition " + edition.letter };
}

template <class T, class MergeOne>
Section<T> mergeSection (MergeLog& log, const Section<T>& base, const Section<T>& mine, const Section<T>& theirs, MergeOne mergeOne)
{
    if (mine == theirs || theirs == base)
        return mine;
    return mergeList (
        log, base.list(), mine.list(), theirs.list(), [] (const T& value) { return itemOf (value); },
        [&] (const MergeItem& item, const T& b, const T& m, const T& t) { return mergeOne (log, item, b, m, t); });
}

Production mergeProduction (MergeLog& log, const Production& base, const Production& mine, const Production& theirs)
{
    const MergeItem item{ "production", "production" };
    Fields fields (log, item, base, mine, theirs);
    for (const auto& field : productionFields())
        fields (field.name, field.text);
    fields ("rounding up", &Production::roundUp);
    return fields.done();
}

/// What one side took away while the other made something of it.
class Uses
{
public:
    Uses (MergeLog& all, const Book& here, const Book& there)
        : log (all)
        , mine (here)
        , theirs (there)
    {
    }

    /// Brings a thing back, unless a person chose that it goes, or the one who names it took it away as well: `namesIt` tells
    /// whether a copy has the user and its reference.
    template <class T, class NamesIt>
    void keep (Section<T>& section, Section<T> Book::*of, const std::string& id, const std::string& user, NamesIt namesIt)
    {
        const auto in = [&id] (const Section<T>& all)
        { return std::find_if (all.begin(), all.end(), [&] (const T& one) { return one.id == id; }); };
        if (id.empty() || in (section) != section.end() || log.used.count (id) > 0)
            return;
        for (const auto* copy : { &mine, &theirs })
            if (namesIt (*copy) && in (copy->*of) == (copy->*of).end())
                return;
        const bool wasMine = in (mine.*of) != (mine.*of).end();
        const auto& from = (wasMine ? mine : theirs).*of;
        const auto found = in (from);
        if (found == from.end())
            return;
        auto list = section.list();
        list.push_back (*found);
        section = std::move (list);
        log.conflicts.push_back ({ id, itemOf (*found).what, "removed", "there", wasMine ? "used by " + user : "taken away",
                                   wasMine ? "taken away" : "used by " + user, ! wasMine });
    }

private:
    MergeLog& log;
    const Book& mine;
    const Book& theirs;
};

/// Whether a copy has that very thing with that very reference.
template <class T, class Reference>
auto naming (Section<T> Book::*of, const T& user, Reference reference)
{
    return [of, id = user.id, wanted = reference (user), reference] (const Book& copy)
    {
        return std::any_of ((copy.*of).begin(), (copy.*of).end(),
                            [&] (const T& one) { return one.id == id && reference (one) == wanted; });
    };
}

void keepUsed (MergeLog& log, Book& book, const Book& mine, const Book& theirs)
{
    Uses uses (log, mine, theirs);
    const auto before = book;
    for (const auto& hit : before.hits)
        uses.keep (book.cues, &Book::cues, hit.cue, itemOf (hit).what,
                   naming<HitPoint> (&Book::hits, hit, [] (const HitPoint& h) { return h.cue; }));
    for (const auto& sound : before.sounds)
    {
        uses.keep (book.cues, &Book::cues, sound.cue, itemOf (sound).what,
                   naming<Sound> (&Book::sounds, sound, [] (const Sound& s) { return s.cue; }));
        uses.keep (book.cues, &Book::cues, sound.place.cue, itemOf (sound).what,
                   naming<Sound> (&Book::sounds, sound, [] (const Sound& s) { return s.place.cue; }));
    }
    for (const auto& use : before.uses)
    {
        const auto namesIt = [&use] (const Book& copy)
        { return std::find (copy.uses.begin(), copy.uses.end(), use) != copy.uses.end(); };
        uses.keep (book.cues, &Book::cues, use.cue, "the use of work " + use.work, namesIt);
        uses.keep (book.works, &Book::works, use.work, "cue " + use.cue, namesIt);
    }
    for (const auto& cue : before.cues)
        uses.keep (book.hits, &Book::hits, cue.barOne.hit, "bar 1 of " + itemOf (cue).what,
                   naming<Cue> (&Book::cues, cue, [] (const Cue& c) { return c.barOne.hit; }));
}

/// After a choice that takes a cue or work away, nothing may name it any more.
void dropChosen (MergeLog& log, Book& book)
{
    const auto gone = [&] (const std::string& id)
    { return ! id.empty() && log.used.count (id) > 0 && cueOf (book, id) == nullptr; };
    auto hits = book.hits.list();
    for (auto& hit : hits)
        if (gone (hit.cue))
        {
            log.notes.push_back (itemOf (hit).what + " belongs to no cue now: " + hit.cue + " was taken away");
            hit.cue.clear();
        }
    if (hits != book.hits.list())
        book.hits = std::move (hits);
    auto sounds = book.sounds.list();
    for (auto& sound : sounds)
        if (gone (sound.cue))
        {
            log.notes.push_back (itemOf (sound).what + " belongs to no cue now: " + sound.cue + " was taken away");
            sound.cue.clear();
        }
    if (sounds != book.sounds.list())
        book.sounds = std::move (sounds);
    const auto noWork = [&] (const std::string& id)
    {
        return log.used.count (id) > 0
               && std::none_of (book.works.begin(), book.works.end(), [&] (const Work& work) { return work.id == id; });
    };
    auto uses = book.uses.list();
    if (const auto count = std::erase_if (uses, [&] (const WorkUse& use) { return gone (use.cue) || noWork (use.work); });
        count > 0)
    {
        log.notes.push_back (std::to_string (count) + " use(s) of works went with their cue or work");
        book.uses = std::move (uses);
    }
}
} // namespace

Result<Merged> mergeBooks (const Book& base, const Book& mine, const Book& theirCopy, const std::vector<MergeChoice>& choices)
{
    MergeLog log (choices);
    const auto theirs = apartFrom (base, mine, theirCopy, log.notes);
    const MergeItem whole{ "book", "book" };
    auto merged = mine;
    merged.title = mergeField (log, whole, "title", base.title, mine.title, theirs.title);
    merged.edition = mergeField (log, whole, "edition", base.edition, mine.edition, theirs.edition);
    merged.delivery = mergeField (log, whole, "delivery", base.delivery, mine.delivery, theirs.delivery);
    merged.people = mergeSection (log, base.people, mine.people, theirs.people, mergePerson);
    merged.prints = mergeSection (log, base.prints, mine.prints, theirs.prints, mergePrint);
    merged.editions = mergeSection (log, base.editions, mine.editions, theirs.editions, mergeEdition);
    merged.hits = mergeSection (log, base.hits, mine.hits, theirs.hits, mergeHit);
    merged.cues = mergeSection (log, base.cues, mine.cues, theirs.cues, mergeCue);
    merged.sounds = mergeSection (log, base.sounds, mine.sounds, theirs.sounds, mergeSound);
    merged.samePictures =
        mergeSet (log, "same pictures of prints", base.samePictures.list(), mine.samePictures.list(), theirs.samePictures.list());
    merged.recuts = mergeSection (log, base.recuts, mine.recuts, theirs.recuts, mergeRecut);
    merged.cards = mergeSection (log, base.cards, mine.cards, theirs.cards, mergeCard);
    merged.works = mergeSection (log, base.works, mine.works, theirs.works, mergeWork);
    merged.uses = mergeSet (log, "uses of works", base.uses.list(), mine.uses.list(), theirs.uses.list());
    merged.usages = mergeSection (log, base.usages, mine.usages, theirs.usages, mergeUsage);
    merged.production = mergeProduction (log, base.production, mine.production, theirs.production);
    merged.unknown = mergeUnknown (log, whole, base.unknown, mine.unknown, theirs.unknown);
    for (const auto& choice : choices)
        if (log.used.count (choice.key) == 0)
        {
            std::string keys;
            for (const auto& key : log.known)
                keys += (keys.empty() ? "" : ", ") + key;
            return usageError ("choice " + choice.key,
                               keys.empty() ? "there is no conflict to choose in" : "names no conflict; there are: " + keys);
        }
    keepUsed (log, merged, mine, theirs);
    dropChosen (log, merged);
    return Merged{ std::move (merged), std::move (log.conflicts), std::move (log.settled), std::move (log.fromTheirs),
                   std::move (log.notes) };
}
} // namespace shutterbeat::spotting
