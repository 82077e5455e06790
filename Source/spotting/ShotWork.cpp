#include "spotting/ShotWork.h"

#include <algorithm>
#include <set>

namespace shutterbeat::spotting
{
namespace
{
bool follows (const film::Shot& earlier, const film::Shot& later)
{
    return ! earlier.made && ! later.made && earlier.print == later.print && earlier.end == later.first;
}

/// Where a shot's n-th use stands in an edition; its size when there is none.
std::size_t useOf (const film::Edition& edition, const std::string& id, int instance)
{
    for (std::size_t i = 0; i < edition.shots.size(); ++i)
        if (edition.shots[i].id == id && instance-- == 0)
            return i;
    return edition.shots.size();
}

/// How many of the shots before `end` satisfy a test.
template <class Test>
int countBefore (const film::Edition& edition, std::size_t end, const Test& test)
{
    return static_cast<int> (
        std::count_if (edition.shots.begin(), edition.shots.begin() + static_cast<std::ptrdiff_t> (end), test));
}

const std::int64_t* framesOf (const film::EdgePlace& place)
{
    return std::get_if<std::int64_t> (&place.offset);
}

bool startsReel (const film::Edition& edition, std::size_t shot)
{
    return std::any_of (edition.reels.begin(), edition.reels.end(), [&] (const auto& reel) { return reel.firstShot == shot; });
}

std::string shownName (const film::Shot& shot)
{
    return "shot " + (shot.name.empty() ? shot.id : shot.name);
}

/// What was said of either of two shots that become one.
std::string bothReasons (const std::string& first, const std::string& second)
{
    if (first.empty() || second.empty() || first == second)
        return first.empty() ? second : first;
    return first + "; " + second;
}
} // namespace

ShotWork::ShotWork (const Book& from)
    : book (from)
    , theEditions (from.editions.list())
    , hits (from.hits.list())
    , cues (from.cues.list())
{
}

Book ShotWork::finish() const
{
    Book changed = book;
    if (theEditions != book.editions.list())
        changed.editions = theEditions;
    if (hits != book.hits.list())
        changed.hits = hits;
    if (cues != book.cues.list())
        changed.cues = cues;
    return changed;
}

const film::Edition* ShotWork::worked() const
{
    const auto found =
        std::find_if (theEditions.begin(), theEditions.end(), [&] (const auto& e) { return e.letter == book.edition; });
    return found != theEditions.end() ? &*found : theEditions.empty() ? nullptr : &theEditions.front();
}

void ShotWork::carry (const Carry& carried)
{
    for (auto& hit : hits)
        hit.place = carried (hit.place);
    for (auto& cue : cues)
    {
        cue.in = carried (cue.in);
        cue.out = carried (cue.out);
    }
}

std::vector<std::string> ShotWork::around (const std::string& print, std::int64_t filmFrame) const
{
    std::set<std::string> ids;
    for (const auto& edition : theEditions)
        for (const auto& shot : edition.shots)
            if (! shot.made && shot.print == print && shot.first < filmFrame && filmFrame < shot.end)
                ids.insert (shot.id);
    return { ids.begin(), ids.end() };
}

/// Which use of a source frame the worked edition's shot `shot` is.
int ShotWork::useBefore (std::size_t shot, std::int64_t filmFrame) const
{
    const film::Edition& edition = *worked();
    const auto& print = edition.shots[shot].print;
    return countBefore (edition, shot,
                        [&] (const film::Shot& s)
                        { return ! s.made && s.print == print && s.first <= filmFrame && filmFrame < s.end; });
}

void ShotWork::split (const std::string& id, const std::string& later, const std::string& print, std::int64_t filmFrame,
                      double strength, bool lock)
{
    // Places first: they are read off the uncut shots. Uses of either part keep the order of the uses they come from.
    if (const auto* edition = worked())
    {
        const auto has = [&] (std::size_t before, bool earlierPart)
        {
            return countBefore (*edition, before,
                                [&] (const film::Shot& s)
                                { return s.id == id && (earlierPart ? s.first < filmFrame : s.end > filmFrame); });
        };
        carry (
            [&] (const film::Place& place) -> film::Place
            {
                const auto* edge = std::get_if<film::EdgePlace> (&place);
                if (edge == nullptr || edge->shot != id)
                    return place;
                const auto use = useOf (*edition, id, edge->instance);
                if (use == edition->shots.size())
                    return place;
                const film::Shot& shot = edition->shots[use];
                const auto* frames = framesOf (*edge);
                film::EdgePlace moved = *edge;
                const std::int64_t at =
                    (edge->edge == film::Edge::head ? shot.first : shot.end) + (frames != nullptr ? *frames : 0);
                // A place on an edge, or noted in seconds from one, stays with that edge; one inside goes to the part it is in.
                const bool pinned = frames == nullptr || *frames == 0;
                const bool inLater =
                    pinned ? (edge->edge == film::Edge::head ? shot.first >= filmFrame : shot.end > filmFrame) : at >= filmFrame;
                moved.instance = has (use, ! inLater);
                if (inLater)
                    moved.shot = later;
                if (! pinned && inLater && edge->edge == film::Edge::head)
                    moved.offset = at - std::max (shot.first, filmFrame);
                if (! pinned && ! inLater && edge->edge == film::Edge::tail)
                    moved.offset = at - std::min (shot.end, filmFrame);
                return moved;
            });
    }
    for (auto& edition : theEditions)
        for (std::size_t i = 0; i < edition.shots.size(); ++i)
        {
            film::Shot& shot = edition.shots[i];
            if (shot.id != id || shot.made || shot.print != print || shot.end <= filmFrame)
                continue;
            if (shot.first >= filmFrame)
            {
                shot.id = later;
                continue;
            }
            film::Shot second = shot;
            second.id = later;
            second.name = shot.name + "b";
            second.first = filmFrame;
            second.strength = strength;
            second.wording.clear();
            second.locked = lock;
            shot.end = filmFrame;
            shot.locked = shot.locked || lock;
            edition.shots.insert (edition.shots.begin() + static_cast<std::ptrdiff_t> (i) + 1, std::move (second));
            for (auto& reel : edition.reels)
                if (reel.firstShot > i)
                    ++reel.firstShot;
            ++i;
        }
}

Result<Done> ShotWork::join (const std::string& earlier, const std::string& later, bool lock)
{
    for (const auto& edition : theEditions)
        for (std::size_t i = 0; i < edition.shots.size(); ++i)
        {
            const auto& shot = edition.shots[i];
            const bool first = shot.id == earlier, second = shot.id == later;
            if (! first && ! second)
                continue;
            const bool pair = first ? i + 1 < edition.shots.size() && edition.shots[i + 1].id == later
                                          && follows (shot, edition.shots[i + 1]) && ! startsReel (edition, i + 1)
                                    : i > 0 && edition.shots[i - 1].id == earlier && follows (edition.shots[i - 1], shot)
                                          && ! startsReel (edition, i);
            if (! pair)
                return usageError (shownName (shot), "is used in edition " + edition.letter + " without "
                                                         + (first ? "the shot after it" : "the shot before it")
                                                         + " joining on, so the two stay two shots");
        }
    if (const auto* edition = worked())
        carry (
            [&] (const film::Place& place) -> film::Place
            {
                const auto* edge = std::get_if<film::EdgePlace> (&place);
                if (edge == nullptr || (edge->shot != earlier && edge->shot != later))
                    return place;
                const bool outer = edge->shot == earlier ? edge->edge == film::Edge::head : edge->edge == film::Edge::tail;
                film::EdgePlace moved = *edge;
                moved.shot = earlier;
                if (outer)
                    return moved;
                // Where the cut was there is only a picture now.
                const auto use = useOf (*edition, edge->shot, edge->instance);
                if (use == edition->shots.size())
                    return place;
                const auto second = edge->shot == later ? use : use + 1;
                const auto* frames = framesOf (*edge);
                const std::int64_t offset =
                    frames != nullptr
                        ? *frames
                        : time::roundOf (std::get<time::Rational> (edge->offset) * film::speedOf (*edition, edition->shots[use]));
                const std::int64_t frame = std::clamp (edition->shots[second].first + offset, edition->shots[second - 1].first,
                                                       edition->shots[second].end - 1);
                const auto holder = frame < edition->shots[second].first ? second - 1 : second;
                return film::PicturePlace{ edition->shots[second].print, frame, useBefore (holder, frame) };
            });
    for (auto& edition : theEditions)
        for (std::size_t i = 1; i < edition.shots.size(); ++i)
            if (edition.shots[i].id == later)
            {
                auto& first = edition.shots[i - 1];
                first.end = edition.shots[i].end;
                first.remade = first.remade || edition.shots[i].remade;
                first.reason = bothReasons (first.reason, edition.shots[i].reason);
                first.locked = first.locked || lock;
                edition.shots.erase (edition.shots.begin() + static_cast<std::ptrdiff_t> (i));
                for (auto& reel : edition.reels)
                    if (reel.firstShot > i)
                        --reel.firstShot;
                --i;
            }
    return Done{};
}

Result<Done> ShotWork::move (const std::string& earlier, const std::string& later, std::int64_t filmFrames, bool lock)
{
    const auto isPair = [&] (const film::Edition& edition, std::size_t i) {
        return edition.shots[i].id == later && edition.shots[i - 1].id == earlier
               && follows (edition.shots[i - 1], edition.shots[i]);
    };
    for (const auto& edition : theEditions)
        for (std::size_t i = 1; i < edition.shots.size(); ++i)
            if (isPair (edition, i)
                && (edition.shots[i].first + filmFrames <= edition.shots[i - 1].first
                    || edition.shots[i].first + filmFrames >= edition.shots[i].end))
                return usageError (shownName (edition.shots[i]),
                                   "its head can't be moved by " + std::to_string (filmFrames)
                                       + " film frames: one of the two shots would have no picture left");
    // A hit on the cut stays on the cut; one counted from it stays on its picture.
    carry (
        [&] (const film::Place& place) -> film::Place
        {
            const auto* edge = std::get_if<film::EdgePlace> (&place);
            const bool at = edge != nullptr
                            && ((edge->shot == later && edge->edge == film::Edge::head)
                                || (edge->shot == earlier && edge->edge == film::Edge::tail));
            const auto* frames = at ? framesOf (*edge) : nullptr;
            if (frames == nullptr || *frames == 0)
                return place;
            film::EdgePlace moved = *edge;
            moved.offset = *frames - filmFrames;
            return moved;
        });
    for (auto& edition : theEditions)
        for (std::size_t i = 1; i < edition.shots.size(); ++i)
            if (isPair (edition, i))
            {
                edition.shots[i - 1].end += filmFrames;
                edition.shots[i].first += filmFrames;
                edition.shots[i - 1].locked = edition.shots[i - 1].locked || lock;
                edition.shots[i].locked = edition.shots[i].locked || lock;
            }
    return Done{};
}

void ShotWork::each (const std::string& id, const std::function<void (film::Shot&)>& change)
{
    for (auto& edition : theEditions)
        for (auto& shot : edition.shots)
            if (shot.id == id)
                change (shot);
}
} // namespace shutterbeat::spotting
