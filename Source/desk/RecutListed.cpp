#include "desk/RecutListed.h"

#include "desk/Prints.h"
#include "spotting/Ids.h"

#include <algorithm>
#include <map>

namespace shutterbeat::desk
{
namespace
{
constexpr int unsure = 500; // thousandths

std::int64_t framesOf (const ListedShot& shot)
{
    std::int64_t frames = 0;
    for (const auto& part : shot.parts)
        frames += part.frames;
    return frames;
}

/// The old shot a listed one has most of, and how many frames.
std::pair<std::optional<std::size_t>, std::int64_t> mostlyOf (const ListedShot& shot)
{
    std::map<std::size_t, std::int64_t> counts;
    for (const auto& part : shot.parts)
        if (part.old)
            counts[*part.old] += part.frames;
    std::pair<std::optional<std::size_t>, std::int64_t> most;
    for (const auto& [old, frames] : counts)
        if (! most.first || frames > most.second)
            most = { old, frames };
    return most;
}

/// Which listed shot is each old one's: the one that has most of it, or comes in its place.
std::map<std::size_t, std::size_t> holdersOf (const std::vector<ListedShot>& shots)
{
    std::map<std::size_t, std::size_t> holder;
    std::map<std::size_t, std::int64_t> most;
    for (std::size_t i = 0; i < shots.size(); ++i)
    {
        auto [old, frames] = mostlyOf (shots[i]);
        if (! old && shots[i].standsSurely)
            old = shots[i].standsFor;
        if (old && (holder.count (*old) == 0 || most[*old] < frames))
        {
            holder[*old] = i;
            most[*old] = frames;
        }
    }
    return holder;
}

/// The new edition while it is put together.
class Maker
{
public:
    Maker (const film::Edition& edition, const std::vector<ListedShot>& shots)
        : base (edition)
        , listed (shots)
        , holder (holdersOf (shots))
    {
    }

    film::Shot shotFor (std::size_t i, const std::string& printId)
    {
        const auto& from = listed[i];
        film::Shot shot;
        shot.name = from.name;
        shot.kind = from.kind;
        shot.strength = 1;
        shot.made = from.made;
        auto [old, frames] = mostlyOf (from);
        if (! old)
            old = from.standsSurely ? from.standsFor : std::nullopt;
        if (old)
        {
            const auto& was = base.shots[*old];
            // Whoever shows most of it again shows it again; a smaller part is a shot of its own.
            const bool again = from.made ? from.standsFor.has_value() : 5 * frames > 3 * was.frames();
            if (holder[*old] == i || again)
                follow (shot, was);
            else
            {
                shot.kind = was.kind;
                shot.speed = was.speed;
            }
            if (from.standsFor && ! from.made)
                shot.wording.clear();
            // A made one that is as it was is not made anew.
            if (from.standsFor && ! (from.made && from.made == was.made))
                shot.remade = true;
        }
        if (from.made)
            return shot;
        // Pictures of one old shot, in its order, are that print's. A shot with new ones among them is of the new print whole.
        if (from.parts.size() == 1 && from.parts.front().old)
        {
            const auto& was = base.shots[*from.parts.front().old];
            shot.print = was.print;
            shot.first = was.first + from.parts.front().inShot;
            shot.end = shot.first + from.parts.front().frames;
            return shot;
        }
        shot.print = printId;
        shot.first = toCome;
        for (const auto& part : from.parts)
        {
            if (part.old && ! base.shots[*part.old].made)
                same.push_back (
                    { printId, toCome, base.shots[*part.old].print, base.shots[*part.old].first + part.inShot, part.frames, {} });
            fresh += part.old ? 0 : part.frames;
            toCome += part.frames;
        }
        shot.end = toCome;
        scanned.push_back ({ shot.first, shot.end, shot.kind, 1 });
        return shot;
    }

    const film::Edition& base;
    const std::vector<ListedShot>& listed;
    std::map<std::size_t, std::size_t> holder;
    std::int64_t toCome = 0; ///< film frames of the print whose pictures are to come
    std::int64_t fresh = 0;  ///< of them: pictures that the old edition does not have
    std::vector<film::SamePictures> same;
    std::vector<film::ScannedShot> scanned;
};

film::Print printToCome (const spotting::Book& book, const std::string& id, const Maker& maker, const std::string& letter)
{
    film::Print print;
    print.id = id;
    print.name = freePrintName (book, "new pictures of edition " + letter);
    for (const auto& shot : maker.base.shots)
        for (const auto& old : book.prints)
            if (old.id == shot.print)
                print.gauge = old.gauge;
    film::ReelFile reel;
    reel.cadence = film::Cadence::oneToOne (maker.toCome);
    reel.cadenceSaid = "counted by a list";
    print.reels.push_back (std::move (reel));
    print.scanned = maker.scanned;
    return print;
}

/// Every reel begins with the shot it began with, where all of those are there and in order; else all is one reel.
void layReels (film::Edition& edition, const film::Edition& base, std::vector<std::string>& notes)
{
    std::vector<film::EditionReel> reels;
    std::size_t from = 0;
    for (std::size_t r = 0; r < base.reels.size(); ++r)
    {
        const auto& id = base.shots[base.reels[r].firstShot].id;
        auto at = from;
        while (r > 0 && at < edition.shots.size() && edition.shots[at].id != id)
            ++at;
        if (at == edition.shots.size())
        {
            edition.reels = { { 0, base.reels.front().startLabel } };
            notes.push_back ("reel " + std::to_string (r + 1) + " of edition " + base.letter
                             + " begins with a shot that is not there or out of order; edition " + edition.letter + " is one reel");
            return;
        }
        reels.push_back (base.reels[r]);
        reels.back().firstShot = at;
        from = at + 1;
    }
    edition.reels = std::move (reels);
}
} // namespace

Result<RecutMade> editionFromListed (const spotting::Book& book, const std::string& before, const std::vector<ListedShot>& shots)
{
    const auto* base = spotting::editionOf (book, before);
    if (base == nullptr)
        return usageError ("edition " + before, "the book does not have it");
    if (shots.empty())
        return usageError ("edition " + before, "nothing of it would be left, and nothing new is there");
    RecutMade made{ book, nextLetter (book), {} };
    film::Edition edition = *base;
    edition.letter = made.after;
    edition.parent = before;
    edition.unknown.clear();
    edition.shots.clear();
    const auto printId = freePrintId (book);
    Maker maker (*base, shots);
    for (std::size_t i = 0; i < shots.size(); ++i)
        edition.shots.push_back (maker.shotFor (i, printId));

    std::size_t nameless = 0;
    for (const auto& shot : edition.shots)
        nameless += shot.id.empty() ? 1 : 0;
    const auto ids = spotting::takeIds (made.book, "scan", nameless);
    if (! ids)
        return ids.error();
    std::size_t given = 0;
    spotting::Recut recut{ before, made.after, {}, {} };
    for (std::size_t i = 0; i < shots.size(); ++i)
    {
        auto& shot = edition.shots[i];
        if (! shot.id.empty())
            continue;
        shot.id = (*ids)[given++];
        if (shot.name.empty())
            shot.name = made.after + std::to_string (given);
        if (! shots[i].standsFor || shots[i].standsSurely || shot.made)
            continue;
        const auto& old = base->shots[*shots[i].standsFor];
        spotting::PendingMatch match;
        match.id = made.after + "-" + std::to_string (recut.matches.size() + 1);
        match.doubt = old.kind == film::ShotKind::card ? spotting::Doubt::card : spotting::Doubt::shot;
        match.print = shot.print;
        match.first = shot.first;
        match.other = old.print;
        match.otherFirst = old.first;
        match.frames = std::min (framesOf (shots[i]), old.frames());
        match.shot = shot.id;
        match.otherShot = old.id;
        match.sure = unsure;
        recut.matches.push_back (std::move (match));
    }
    layReels (edition, *base, made.notes);
    if (maker.toCome > 0)
    {
        auto prints = made.book.prints.list();
        prints.push_back (printToCome (book, printId, maker, made.after));
        made.notes.push_back (std::to_string (maker.fresh) + " film frames are new; their pictures are to come (print "
                              + prints.back().name + "). With the new film: shutterbeat recut BOOK FILE finds all by picture");
        made.book.prints = std::move (prints);
        auto same = book.samePictures.list();
        same.insert (same.end(), maker.same.begin(), maker.same.end());
        made.book.samePictures = std::move (same);
    }
    auto editions = book.editions.list();
    editions.push_back (std::move (edition));
    made.book.editions = std::move (editions);
    made.book.edition = made.after;
    if (! recut.matches.empty())
        made.notes.push_back (std::to_string (recut.matches.size()) + " match(es) are in doubt and wait for a decision");
    auto recuts = book.recuts.list();
    recuts.push_back (std::move (recut));
    made.book.recuts = std::move (recuts);
    return made;
}
} // namespace shutterbeat::desk
