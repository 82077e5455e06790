#include "desk/RecutFromLists.h"

#include "desk/ListedFrames.h"
#include "desk/RecutListed.h"
#include "time/Text.h"

#include <algorithm>
#include <map>
#include <unordered_map>

namespace shutterbeat::desk
{
namespace
{
using exchange::PictureList;
using exchange::PictureStretch;
using time::Rational;

std::string sourceOf (const PictureStretch& stretch, bool oneFilm)
{
    if (stretch.kind != PictureStretch::Kind::picture)
        return "black";
    auto source = time::lowerAscii (stretch.source);
    // Every file is AX to a CMX3600 list: then the clip's name tells them apart.
    if (source == "ax" && ! oneFilm)
        source += "/" + time::lowerAscii (stretch.clip);
    return source;
}

/// What a frame of a list shows, so that equal ones are the same picture.
struct Shown
{
    std::uint32_t source = 0;
    std::int64_t frame = 0, still = 0; ///< source frame; how far into a freeze

    friend bool operator== (const Shown&, const Shown&) = default;
};

struct ShownHash
{
    std::size_t operator() (const Shown& s) const
    {
        return (static_cast<std::size_t> (s.frame) * 1000003 + s.source) * 1000003 + static_cast<std::size_t> (s.still);
    }
};

class Sources
{
public:
    explicit Sources (bool film)
        : oneFilm (film)
    {
    }

    Shown shown (const PictureStretch& stretch, std::int64_t at)
    {
        const auto source = numbers.try_emplace (sourceOf (stretch, oneFilm), static_cast<std::uint32_t> (numbers.size())).first;
        if (stretch.kind != PictureStretch::Kind::picture)
            return { source->second, at, 0 };
        const bool freeze = stretch.speed.sign() == 0;
        // In slow motion a source frame stands for several frames: the first is not the second.
        const auto exact = stretch.at (at);
        const auto frame = time::floorOf (exact);
        return { source->second, frame, freeze ? at + 1 : time::floorOf ((exact - Rational (frame)) * Rational (1000)) };
    }

private:
    bool oneFilm;
    std::map<std::string, std::uint32_t> numbers;
};

/// The frames of the old list that each frame of the new one shows; -1: none.
std::vector<std::int64_t> oldFrames (const PictureList& old, const PictureList& now)
{
    Sources sources (old.ofOneFilm());
    std::unordered_map<Shown, std::vector<std::int64_t>, ShownHash> where;
    for (const auto& stretch : old.stretches)
        for (std::int64_t k = 0; k < stretch.length; ++k)
            where[sources.shown (stretch, k)].push_back (stretch.start + k);
    std::vector<std::int64_t> found;
    found.reserve (static_cast<std::size_t> (now.frames()));
    std::int64_t last = -1;
    for (const auto& stretch : now.stretches)
        for (std::int64_t k = 0; k < stretch.length; ++k)
        {
            const auto at = where.find (sources.shown (stretch, k));
            std::int64_t frame = -1;
            if (at != where.end())
            {
                // Of several uses the one that goes on from the frame before, else the next one after it.
                const auto next = std::lower_bound (at->second.begin(), at->second.end(), last + 1);
                frame = next == at->second.end() ? at->second.front() : *next;
                last = frame;
            }
            found.push_back (frame);
        }
    return found;
}

/// Listed shots of one stretch of the new list.
class Stretcher
{
public:
    Stretcher (const film::Edition& edition, const OldEdition& oldOne, std::vector<ListedShot>& all)
        : base (edition)
        , old (oldOne)
        , shots (all)
    {
    }

    void add (const PictureStretch& stretch, const std::vector<std::int64_t>& found)
    {
        std::vector<ListedPart> parts;
        std::int64_t unknown = 0;
        const auto endUnknown = [&]
        {
            if (unknown > 0)
                parts.push_back ({ {}, unknown, std::max<std::int64_t> (1, time::roundOf (Rational (unknown) * old.filmAFrame)) });
            unknown = 0;
        };
        for (std::int64_t k = 0; k < stretch.length; ++k)
        {
            const auto frame = found[static_cast<std::size_t> (stretch.start + k)];
            if (frame < 0)
            {
                ++unknown;
                continue;
            }
            endUnknown();
            const auto& was = old.frames[static_cast<std::size_t> (frame)];
            if (! parts.empty() && parts.back().old == was.shot)
            {
                auto& part = parts.back();
                const auto last = part.inShot + part.frames - 1;
                if (was.inShot == last) // the same film frame again, as the cadence has it
                    continue;
                if (was.inShot == last + 1)
                {
                    ++part.frames;
                    continue;
                }
            }
            parts.push_back ({ was.shot, was.inShot, 1 });
        }
        endUnknown();
        // Old shots that follow one another, as where the scan saw a cut and the list none, stay shots.
        for (std::size_t i = 0; i < parts.size(); ++i)
        {
            const bool apart = i == 0 || (parts[i].old && parts[i - 1].old && parts[i].old != parts[i - 1].old);
            addPart (stretch, parts[i], apart);
        }
    }

private:
    void addPart (const PictureStretch& stretch, ListedPart part, bool apart)
    {
        const bool made = part.old && base.shots[*part.old].made;
        const bool stands = ! part.old && (stretch.kind != PictureStretch::Kind::picture || stretch.speed.sign() == 0);
        if (made || stands)
        {
            // A made one of the old edition as long as its list frames; black and freezes that are new are made.
            ListedShot shot{ stretch.clip, {}, {}, {}, {}, true };
            if (made)
            {
                const auto& was = base.shots[*part.old];
                const auto all =
                    std::count_if (old.frames.begin(), old.frames.end(), [&] (const OldFrame& f) { return f.shot == *part.old; });
                shot.made = part.frames == all ? *was.made : Rational (part.frames) * old.secondsAFrame;
                shot.kind = was.kind;
                shot.standsFor = part.old;
            }
            else
            {
                shot.made = Rational (part.inShot) * old.secondsAFrame;
                shot.kind = stretch.kind == PictureStretch::Kind::picture ? film::ShotKind::shot : film::ShotKind::black;
            }
            shots.push_back (std::move (shot));
            return;
        }
        if (! part.old)
            part.inShot = 0;
        if (part.old && ! shots.empty() && ! shots.back().parts.empty())
        {
            // An edit that only the list has, where the old shot goes on: no cut.
            auto& before = shots.back().parts.back();
            if (before.old == part.old && before.inShot + before.frames == part.inShot)
            {
                before.frames += part.frames;
                return;
            }
        }
        if (apart || shots.empty() || shots.back().made)
            shots.push_back ({ stretch.clip, film::ShotKind::shot, {}, {}, {}, true });
        shots.back().parts.push_back (part);
    }

    const film::Edition& base;
    const OldEdition& old;
    std::vector<ListedShot>& shots;
};

/// A new shot that stands where one old shot stood of which nothing is left may be its successor.
void findSuccessors (const film::Edition& base, std::vector<ListedShot>& shots, const std::vector<std::string>& oldClips)
{
    std::vector<bool> used (base.shots.size());
    for (const auto& shot : shots)
    {
        if (shot.standsFor)
            used[*shot.standsFor] = true;
        for (const auto& part : shot.parts)
            if (part.old)
                used[*part.old] = true;
    }
    constexpr auto nothing = static_cast<std::size_t> (-1);
    for (std::size_t i = 0; i < shots.size(); ++i)
    {
        auto& shot = shots[i];
        if (shot.made || shot.parts.size() != 1 || shot.parts.front().old)
            continue;
        auto gone = nothing;
        const auto goneAt = [&] (std::size_t at) { return at < used.size() && ! used[at] && ! base.shots[at].made; };
        const auto oldOf = [=] (const ListedPart& part) { return part.old.value_or (nothing); };
        const auto earlier = i > 0 && ! shots[i - 1].parts.empty() ? oldOf (shots[i - 1].parts.back()) : nothing;
        const auto later = i + 1 < shots.size() && ! shots[i + 1].parts.empty() ? oldOf (shots[i + 1].parts.front()) : nothing;
        if (earlier != nothing && goneAt (earlier + 1) && (later == nothing || later == earlier + 2))
            gone = earlier + 1;
        else if (earlier == nothing && later != nothing && later > 0 && goneAt (later - 1))
            gone = later - 1;
        if (gone == nothing)
            continue;
        const bool named = ! shot.name.empty() && time::lowerAscii (shot.name) == time::lowerAscii (oldClips[gone]);
        const auto& was = base.shots[gone];
        if (was.kind != film::ShotKind::card && was.frames() != shot.parts.front().frames)
            continue;
        shot.kind = was.kind;
        shot.standsFor = gone;
        shot.standsSurely = named && was.kind == film::ShotKind::card;
        used[gone] = true;
    }
}

/// The clip that the old list names where each old shot begins.
std::vector<std::string> clipsOf (const film::Edition& base, const OldEdition& old, const PictureList& list)
{
    std::vector<std::string> clips (base.shots.size());
    for (const auto& stretch : list.stretches)
        for (std::int64_t k = 0; k < stretch.length; ++k)
            if (const auto& frame = old.frames[static_cast<std::size_t> (stretch.start + k)]; frame.inShot == 0)
                clips[frame.shot] = stretch.clip;
    return clips;
}

void addOnce (std::vector<std::string>& notes, const std::vector<std::string>& more, const std::string& of)
{
    for (const auto& note : more)
        if (const auto text = of + ": " + note; std::find (notes.begin(), notes.end(), text) == notes.end())
            notes.push_back (text);
}
} // namespace

Result<RecutMade> recutFromLists (const spotting::Book& book, const std::string& before, const PictureList& old,
                                  const PictureList& now, std::optional<ListCounts> counts)
{
    if (old.rate.perSecond != now.rate.perSecond)
        return usageError ("lists", "the old one is at " + time::rateName (old.rate) + ", the new one at "
                                        + time::rateName (now.rate) + "; both have to count alike");
    spotting::Asked asked;
    asked.edition = before;
    const auto timings = spotting::timingsOf (book, asked);
    if (! timings)
        return timings.error();
    const auto was = oldEdition (book, *timings, old.frames(), old.rate, counts);
    if (! was)
        return was.error();
    const auto& base = timings->edition();
    const auto found = oldFrames (old, now);
    if (std::all_of (found.begin(), found.end(), [] (std::int64_t frame) { return frame < 0; }))
        return usageError ("new list", "has no picture of the old one: no source and source frame are in both");
    std::vector<ListedShot> shots;
    Stretcher stretcher (base, *was, shots);
    for (const auto& stretch : now.stretches)
        stretcher.add (stretch, found);
    findSuccessors (base, shots, clipsOf (base, *was, old));
    auto made = editionFromListed (book, before, shots);
    if (! made)
        return made.error();
    std::vector<std::string> notes{ "a frame of the lists is taken for "
                                    + std::string (was->counts == ListCounts::filmFrames  ? "a film frame"
                                                   : was->counts == ListCounts::delivered ? "a delivered frame"
                                                                                          : "a frame of the file")
                                    + ": the old one is exactly as long as edition " + before };
    addOnce (notes, old.notes, "old list");
    addOnce (notes, now.notes, "new list");
    notes.insert (notes.end(), made->notes.begin(), made->notes.end());
    made->notes = std::move (notes);
    return made;
}
} // namespace shutterbeat::desk
