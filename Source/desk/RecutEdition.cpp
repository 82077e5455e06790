#include "desk/RecutEdition.h"

#include "spotting/Ids.h"

#include <algorithm>
#include <set>
#include <tuple>
#include <utility>

namespace shutterbeat::desk
{
namespace
{
constexpr std::size_t none = static_cast<std::size_t> (-1);

/// The old edition's pictures that each frame of the new print shows.
struct Mapped
{
    std::vector<std::size_t> shot;   ///< of the old edition; none: new
    std::vector<std::int64_t> frame; ///< film frames from that shot's head
};

/// Which use of a picture in the old edition a frame of the new print has: the one that goes on from the frame before.
Mapped mapped (const film::Edition& before, const std::string& print, std::int64_t frames,
               const std::vector<film::SamePictures>& same)
{
    Mapped result;
    result.shot.assign (static_cast<std::size_t> (frames), none);
    result.frame.assign (static_cast<std::size_t> (frames), 0);
    std::vector<const film::SamePictures*> runs;
    for (const auto& run : same)
        if (run.print == print)
            runs.push_back (&run);
    std::stable_sort (runs.begin(), runs.end(), [] (const auto* a, const auto* b) { return a->first < b->first; });
    for (const auto* run : runs)
    {
        const auto shows = [&] (std::size_t s, std::int64_t source)
        {
            const auto& shot = before.shots[s];
            return ! shot.made && shot.print == run->other && source >= shot.first && source < shot.end;
        };
        for (std::int64_t k = 0; k < run->frames && run->first + k < frames; ++k)
        {
            const auto i = static_cast<std::size_t> (run->first + k);
            const auto source = run->otherFirst + k;
            const std::size_t last = i > 0 ? result.shot[i - 1] : none;
            std::size_t found = none;
            if (last != none && shows (last, source))
                found = last;
            else if (last != none && last + 1 < before.shots.size() && shows (last + 1, source))
                found = last + 1;
            else if (result.shot[i] != none)
                continue;
            for (std::size_t s = 0; s < before.shots.size() && found == none; ++s)
                if (shows (s, source))
                    found = s;
            if (found == none)
                continue;
            result.shot[i] = found;
            result.frame[i] = source - before.shots[found].first;
        }
    }
    return result;
}

/// Where the new edition's shots begin.
std::vector<std::int64_t> headsFrom (const film::Print& print, const Mapped& map, const film::Edition& before)
{
    const auto frames = static_cast<std::int64_t> (map.shot.size());
    std::set<std::int64_t> heads{ 0 };
    for (const auto& shot : print.scanned)
        if (shot.first > 0 && shot.first < frames)
            heads.insert (shot.first);
    std::int64_t reelHead = 0;
    std::set<std::int64_t> reelHeads;
    for (const auto& reel : print.reels)
        reelHeads.insert (std::exchange (reelHead, reelHead + reel.cadence.filmFrames()));
    for (std::int64_t n = 1; n < frames; ++n)
    {
        const auto i = static_cast<std::size_t> (n);
        if (map.shot[i] == none || map.shot[i - 1] == none)
            continue;
        const auto& earlier = before.shots[map.shot[i - 1]];
        const bool goesOn = map.shot[i] == map.shot[i - 1] && map.frame[i] == map.frame[i - 1] + 1;
        const bool oldCut = map.shot[i] == map.shot[i - 1] + 1 && map.frame[i] == 0 && map.frame[i - 1] + 1 == earlier.frames();
        if (goesOn && reelHeads.count (n) == 0)
            heads.erase (n);
        if (oldCut)
            heads.insert (n);
    }
    heads.insert (reelHeads.begin(), reelHeads.end());
    return { heads.begin(), heads.end() };
}

film::ShotKind scannedKind (const film::Print& print, std::int64_t frame)
{
    for (const auto& shot : print.scanned)
        if (frame >= shot.first && frame < shot.end)
            return shot.kind;
    return film::ShotKind::shot;
}

/// The old shot that most of [first, end) shows, and how many frames of it.
std::pair<std::size_t, std::int64_t> mostlyOf (const Mapped& map, std::int64_t first, std::int64_t end)
{
    std::map<std::size_t, std::int64_t> counts;
    for (auto n = first; n < end; ++n)
        if (const auto shot = map.shot[static_cast<std::size_t> (n)]; shot != none)
            ++counts[shot];
    std::pair<std::size_t, std::int64_t> best{ none, 0 };
    for (const auto& [shot, count] : counts)
        if (count > best.second)
            best = { shot, count };
    return best;
}

/// Shots of the new edition; those that are no old one's have no id yet.
std::vector<film::Shot> shotsFrom (const film::Print& print, const film::Edition& before, const Mapped& map)
{
    struct Part
    {
        std::int64_t first = 0, end = 0;
        std::size_t old = none;
        std::int64_t frames = 0; ///< of it
    };
    const auto frames = static_cast<std::int64_t> (map.shot.size());
    const auto heads = headsFrom (print, map, before);
    std::vector<Part> parts;
    for (std::size_t i = 0; i < heads.size(); ++i)
    {
        Part part{ heads[i], i + 1 < heads.size() ? heads[i + 1] : frames, none, 0 };
        std::tie (part.old, part.frames) = mostlyOf (map, part.first, part.end);
        parts.push_back (part);
    }
    // The part that has most of an old shot is it; others are it too only where they show most of it again.
    std::map<std::size_t, std::size_t> holder;
    for (std::size_t i = 0; i < parts.size(); ++i)
        if (const auto old = parts[i].old; old != none && (holder.count (old) == 0 || parts[holder[old]].frames < parts[i].frames))
            holder[old] = i;
    std::vector<film::Shot> shots;
    for (std::size_t i = 0; i < parts.size(); ++i)
    {
        const Part& part = parts[i];
        film::Shot shot;
        shot.print = print.id;
        shot.first = part.first;
        shot.end = part.end;
        shot.kind = scannedKind (print, (part.first + part.end) / 2);
        shot.strength = 1;
        for (const auto& found : print.scanned)
            if (found.first == part.first)
                shot.strength = found.strength;
        if (part.old != none)
        {
            const auto& old = before.shots[part.old];
            const bool again = holder[part.old] != i && 5 * part.frames > 3 * old.frames();
            if (holder[part.old] == i || again)
                follow (shot, old);
            else
            {
                shot.kind = old.kind;
                shot.speed = old.speed;
            }
        }
        shots.push_back (std::move (shot));
    }
    return shots;
}

int thousandths (double sure)
{
    return static_cast<int> (std::clamp (sure, 0.0, 1.0) * 1000 + 0.5);
}
} // namespace

std::string nextLetter (const spotting::Book& book)
{
    for (int n = 1;; ++n)
    {
        // A to Z, AA to AZ, BA ...
        std::string letter;
        for (int rest = n; rest > 0; rest = (rest - 1) / 26)
            letter.insert (letter.begin(), static_cast<char> ('A' + (rest - 1) % 26));
        if (spotting::editionOf (book, letter) == nullptr)
            return letter;
    }
}

void follow (film::Shot& shot, const film::Shot& old)
{
    shot.id = old.id;
    shot.name = old.name;
    shot.kind = old.kind;
    shot.speed = old.speed;
    shot.wording = old.wording;
    shot.remade = old.remade;
    shot.reason = old.reason;
    shot.locked = old.locked;
    shot.unknown = old.unknown;
}

std::vector<film::ScannedShot> cutsOf (const film::Print& print, const film::Edition& edition)
{
    const auto frames = film::filmFramesOf (print);
    std::set<std::int64_t> heads{ 0 };
    std::vector<const film::Shot*> used;
    for (const auto& shot : edition.shots)
        if (! shot.made && shot.print == print.id)
        {
            used.push_back (&shot);
            heads.insert (shot.first);
            if (shot.end < frames)
                heads.insert (shot.end);
        }
    const auto inside = [&] (std::int64_t n, bool head)
    {
        return std::any_of (used.begin(), used.end(),
                            [&] (const film::Shot* shot) { return n >= shot->first + (head ? 1 : 0) && n < shot->end; });
    };
    for (const auto& shot : print.scanned)
        if (shot.first < frames && ! inside (shot.first, true))
            heads.insert (shot.first);
    std::vector<film::ScannedShot> shots;
    for (auto at = heads.begin(); at != heads.end(); ++at)
    {
        const auto end = std::next (at) == heads.end() ? frames : *std::next (at);
        film::ScannedShot shot{ *at, end, scannedKind (print, (*at + end) / 2), 1 };
        for (const auto* own : used)
            if (*at >= own->first && *at < own->end)
                shot.kind = own->kind;
        if (end > *at)
            shots.push_back (shot);
    }
    return shots;
}

Result<RecutMade> editionFrom (const spotting::Book& book, const std::string& before, const std::string& printId,
                               const std::map<std::string, scan::PrintMatch>& matches)
{
    const auto* base = spotting::editionOf (book, before);
    const auto print =
        std::find_if (book.prints.begin(), book.prints.end(), [&] (const film::Print& p) { return p.id == printId; });
    if (base == nullptr)
        return usageError ("edition " + before, "the book does not have it");
    if (print == book.prints.end())
        return usageError ("print " + printId, "the book does not have it");
    RecutMade made{ book, nextLetter (book), {} };
    const auto frames = film::filmFramesOf (*print);
    auto same = book.samePictures.list();
    spotting::Recut recut{ before, made.after, {}, {} };
    const auto doubt = [&] (spotting::PendingMatch match)
    {
        match.id = made.after + "-" + std::to_string (recut.matches.size() + 1);
        recut.matches.push_back (std::move (match));
    };
    using spotting::Doubt;
    for (const auto& [other, match] : matches)
        for (const auto& run : match.runs)
        {
            const bool unlikely = run.sure < scan::doubtfulShot;
            if (unlikely || run.exact < scan::doubtfulFrame)
                doubt ({ "",
                         unlikely ? Doubt::shot : Doubt::frame,
                         printId,
                         run.newFirst,
                         other,
                         run.oldFirst,
                         run.frames,
                         "",
                         "",
                         thousandths (unlikely ? run.sure : run.exact),
                         spotting::Answer::pending,
                         0,
                         {} });
            if (! unlikely)
                same.push_back ({ printId, run.newFirst, other, run.oldFirst, run.frames, {} });
        }

    const auto map = mapped (*base, printId, frames, same);
    film::Edition edition = *base;
    edition.letter = made.after;
    edition.parent = before;
    edition.unknown.clear();
    edition.shots = shotsFrom (*print, *base, map);
    // A card that stands where a card stood is its successor.
    for (const auto& [other, match] : matches)
        for (const auto& card : match.successors)
        {
            const auto old = cutsOf (*std::find_if (book.prints.begin(), book.prints.end(),
                                                    [&, id = other] (const film::Print& p) { return p.id == id; }),
                                     *base)[card.oldShot];
            const auto& now = print->scanned[card.newShot];
            const auto was =
                std::find_if (base->shots.begin(), base->shots.end(),
                              [&, id = other] (const film::Shot& s) { return ! s.made && s.print == id && s.first == old.first; });
            const auto is = std::find_if (edition.shots.begin(), edition.shots.end(),
                                          [&] (const film::Shot& s) { return s.first == now.first && s.id.empty(); });
            if (was == base->shots.end() || is == edition.shots.end())
                continue;
            if (card.sure >= scan::doubtfulShot)
            {
                follow (*is, *was);
                is->wording.clear();
                is->remade = true;
                made.notes.push_back ("card " + was->name + " is remade: " + std::to_string (was->frames()) + " film frames, now "
                                      + std::to_string (is->frames()));
            }
            else
                doubt ({ "",
                         Doubt::card,
                         printId,
                         is->first,
                         other,
                         was->first,
                         std::min (is->frames(), was->frames()),
                         "",
                         was->id,
                         thousandths (card.sure),
                         spotting::Answer::pending,
                         0,
                         {} });
        }
    const auto nameless =
        std::count_if (edition.shots.begin(), edition.shots.end(), [] (const film::Shot& s) { return s.id.empty(); });
    const auto ids = spotting::takeIds (made.book, "scan", static_cast<std::size_t> (nameless));
    if (! ids)
        return ids.error();
    std::size_t given = 0;
    for (auto& shot : edition.shots)
        if (shot.id.empty())
        {
            shot.id = (*ids)[given++];
            shot.name = made.after + std::to_string (given);
        }
    for (auto& match : recut.matches)
        for (const auto& shot : edition.shots)
            if (match.first >= shot.first && match.first < shot.end)
                match.shot = shot.id;
    for (auto& match : recut.matches)
        for (const auto& shot : base->shots)
            if (match.otherShot.empty() && ! shot.made && shot.print == match.other && match.otherFirst >= shot.first
                && match.otherFirst < shot.end)
                match.otherShot = shot.id;

    // As many files as the old edition has reels: each is one; else all is one reel.
    if (print->reels.size() == base->reels.size())
    {
        std::int64_t first = 0;
        for (std::size_t r = 0; r < print->reels.size(); ++r)
        {
            edition.reels[r].firstShot = static_cast<std::size_t> (
                std::find_if (edition.shots.begin(), edition.shots.end(), [&] (const film::Shot& s) { return s.first >= first; })
                - edition.shots.begin());
            first += print->reels[r].cadence.filmFrames();
        }
    }
    else
        edition.reels = { { 0, base->reels.front().startLabel } };
    auto editions = book.editions.list();
    editions.push_back (std::move (edition));
    made.book.editions = std::move (editions);
    made.book.samePictures = std::move (same);
    made.book.edition = made.after;
    auto recuts = book.recuts.list();
    if (! recut.matches.empty())
        made.notes.push_back (std::to_string (recut.matches.size()) + " match(es) are in doubt and wait for a decision");
    recuts.push_back (std::move (recut));
    made.book.recuts = std::move (recuts);
    return made;
}
} // namespace shutterbeat::desk
