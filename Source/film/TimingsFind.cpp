#include "film/Timings.h"

#include "time/Clock.h"
#include "time/Text.h"
#include "time/Timecode.h"

#include <algorithm>

namespace shutterbeat::film
{
namespace
{
// Nobody plays a day before the picture; and times this small never run out of room.
const time::Rational mostOutside (86400);
constexpr std::int64_t mostOutsideParts = 1'000'000'000'000;

bool within (const time::Rational& seconds, const time::Rational& most)
{
    return seconds.valid() && seconds <= most && -seconds <= most;
}
} // namespace

Result<std::size_t> Timings::reelFor (const TypedPlace& typed) const
{
    if (typed.reel < 1 || static_cast<std::size_t> (typed.reel) > reels.size())
        return usageError ("reel " + std::to_string (typed.reel),
                           "edition " + theEdition.letter + " has " + std::to_string (reels.size()) + " reel(s)");
    return static_cast<std::size_t> (typed.reel) - 1;
}

Result<std::string> Timings::shotIdFor (const std::string& idOrName) const
{
    for (const auto& shot : theEdition.shots)
        if (shot.id == idOrName)
            return shot.id;
    const Shot* named = nullptr;
    for (const auto& shot : theEdition.shots)
        if (shot.name == idOrName)
        {
            if (named != nullptr && named->id != shot.id)
                return usageError ("shot \"" + idOrName + "\"",
                                   "two shots have that name; give the id, " + named->id + " or " + shot.id);
            named = &shot;
        }
    if (named == nullptr)
        return usageError ("shot \"" + idOrName + "\"", "edition " + theEdition.letter + " has no shot of that id or name");
    return named->id;
}

Result<EdgePlace> Timings::edgeFor (const TypedPlace& typed) const
{
    EdgePlace edge = typed.edge;
    auto id = shotIdFor (typed.text);
    const auto mark = typed.text.rfind ('#');
    if (! id && mark != std::string::npos)
        if (const auto use = time::parseWhole (std::string_view (typed.text).substr (mark + 1)); use && *use >= 1 && *use <= 9999)
        {
            id = shotIdFor (typed.text.substr (0, mark));
            edge.instance = static_cast<int> (*use) - 1;
        }
    if (! id)
        return id.error();
    edge.shot = *id;
    return edge;
}

Result<Position> Timings::findPicture (const PicturePlace& place) const
{
    const auto shows = [] (const Shot& shot, const SourceFrame& frame)
    { return ! shot.made && shot.print == frame.print && frame.frame >= shot.first && frame.frame < shot.end; };
    int instance = 0;
    for (std::size_t i = 0; i < theEdition.shots.size(); ++i)
        if (shows (theEdition.shots[i], { place.print, place.filmFrame }) && instance++ == place.instance)
            return inShot (i, place.filmFrame - theEdition.shots[i].first);
    // The same picture in another print: its uses are counted in their own order, the last stands for those that are no more.
    if (instance == 0)
    {
        std::optional<Position> found;
        const auto others =
            theSame.empty() ? std::vector<SourceFrame>() : sameElsewhere (theSame, { place.print, place.filmFrame });
        for (std::size_t i = 0; i < theEdition.shots.size() && instance <= place.instance; ++i)
            for (const auto& other : others)
                if (shows (theEdition.shots[i], other) && instance <= place.instance)
                {
                    found = inShot (i, other.frame - theEdition.shots[i].first);
                    ++instance;
                }
        if (found)
            return *found;
    }
    return usageError ("edition " + theEdition.letter, "does not show film frame " + std::to_string (place.filmFrame) + " of print "
                                                           + place.print + (place.instance > 0 ? " so many times" : ""));
}

Result<Position> Timings::inMadeChecked (std::size_t shot, const time::Rational& seconds) const
{
    const Position p = inMade (shot, seconds);
    if ((p.time * theDelivery.countingRate()).valid() && (seconds * time::Rational (2)).valid()
        && (seconds - *theEdition.shots[shot].made).valid())
        return p;
    return Error{ ErrorCode::overflow, "shot " + theEdition.shots[shot].name,
                  "a place in it is so fine that its exact time is too long to hold; round it to a simpler fraction" };
}

Result<Position> Timings::findEdge (const EdgePlace& place) const
{
    if (const auto* seconds = std::get_if<time::Rational> (&place.offset); seconds != nullptr && ! within (*seconds, mostOutside))
        return usageError ("shot " + place.shot, "no place is " + offsetText (place.offset) + " from its edge");
    int instance = 0;
    for (std::size_t i = 0; i < theEdition.shots.size(); ++i)
    {
        const Shot& shot = theEdition.shots[i];
        if (shot.id != place.shot || instance++ != place.instance)
            continue;
        const auto* seconds = std::get_if<time::Rational> (&place.offset);
        if (shot.made)
        {
            // An offset noted in film frames keeps its length in time when the card has been remade (WORKED L).
            const auto offset =
                seconds != nullptr ? *seconds : time::Rational (std::get<std::int64_t> (place.offset)) / speedOf (theEdition, shot);
            const auto at = place.edge == Edge::head ? offset : *shot.made + offset;
            if (at.valid() && at.sign() >= 0 && at < *shot.made)
                return inMadeChecked (i, at);
            if (at == *shot.made)
                return i + 1 < theEdition.shots.size() && reelOfShot (i + 1) == reelOfShot (i)
                           ? Result<Position> (shotHead (i + 1))
                           : atFilmFrame (reels[reelOfShot (i)].time.frames(), reelOfShot (i));
            return usageError ("shot " + shot.name, "is too short for a place " + offsetText (place.offset) + " from its edge");
        }
        const std::int64_t frames =
            seconds != nullptr ? time::roundOf (*seconds * speedOf (theEdition, shot)) : std::get<std::int64_t> (place.offset);
        const std::int64_t inside = (place.edge == Edge::head ? 0 : shot.frames()) + frames;
        if (inside >= 0 && inside < shot.frames())
            return inShot (i, inside);
        const std::size_t reel = reelOfShot (i);
        if (inside == shot.frames() && i + 1 < theEdition.shots.size() && reelOfShot (i + 1) == reel)
            return shotHead (i + 1);
        return atFilmFrame (reels[reel].time.spanFirst (i - reels[reel].firstShot) + inside, reel);
    }
    return usageError ("edition " + theEdition.letter,
                       "has no shot " + place.shot
                           + (instance > 0 ? " so many times; it is used " + std::to_string (instance) : ""));
}

Result<Position> Timings::find (const Place& place) const
{
    if (const auto* picture = std::get_if<PicturePlace> (&place))
        return findPicture (*picture);
    if (const auto* edge = std::get_if<EdgePlace> (&place))
        return findEdge (*edge);
    const auto& outside = std::get<OutsidePlace> (place);
    if (! within (outside.seconds, mostOutside) || outside.seconds.denominator() > mostOutsideParts)
        return usageError (placeText (place), "lies more than a day outside the picture, or is too fine a fraction");
    if (outside.afterEnd == (outside.seconds.sign() < 0))
        return usageError (placeText (place), outside.afterEnd ? "is not after picture end" : "is not before picture start");
    Position p = outside.afterEnd ? shotHead (theEdition.shots.size()) : shotHead (0);
    p.where = Position::Where::outside;
    p.afterEnd = outside.afterEnd;
    p.outsideSeconds = outside.seconds;
    return p;
}

Result<Position> Timings::findFileFrame (std::int64_t fileFrame, std::size_t reelFile) const
{
    const Print* from = nullptr;
    for (const auto& shot : theEdition.shots)
        if (! shot.made && from == nullptr)
            from = print (shot.print);
    if (from == nullptr)
        return usageError ("file:" + std::to_string (fileFrame), "the edition has no photographed shots");
    const auto source = filmFrameOf (*from, reelFile, fileFrame);
    if (! source)
        return source.error();
    return findPicture ({ from->id, *source, 0 });
}

Result<Position> Timings::find (const TypedPlace& typed) const
{
    using Kind = TypedPlace::Kind;
    // For file: the reel is one of the print's files; every other kind counts from a reel of the edition.
    if (typed.kind == Kind::fileFrame)
        return findFileFrame (typed.frame, static_cast<std::size_t> (std::max (typed.reel, 1)) - 1);
    const auto reel = reelFor (typed);
    if (! reel)
        return reel.error();
    switch (typed.kind)
    {
    case Kind::filmFrame:
        return atFilmFrame (typed.frame, *reel);
    case Kind::timecode:
        return findTimecode (typed, *reel);
    case Kind::feet:
    {
        const auto frames = time::parseFeet (typed.text, gauge());
        if (! frames)
            return frames.error();
        const auto at = atFilmFrame (*frames, *reel);
        if (! at)
            return usageError ("feet:" + typed.text, "the film does not have it; it is "
                                                         + time::feetText (reels[*reel].time.frames(), gauge()) + " long");
        return at;
    }
    case Kind::edge:
    {
        const auto edge = edgeFor (typed);
        if (! edge)
            return edge.error();
        return findEdge (*edge);
    }
    case Kind::seconds:
    case Kind::afterEnd:
        return findSeconds (typed, *reel);
    case Kind::fileFrame:
        break;
    }
    return usageError ("place", "is not known");
}

Result<Position> Timings::findTimecode (const TypedPlace& typed, std::size_t reel) const
{
    const auto count = time::parseLabel (typed.text, theDelivery.rate);
    if (! count)
        return count.error();
    auto delivered = count->value - reels[reel].startCount;
    // A film that runs past midnight shows small labels at its end; typed as they are seen, they mean the next day.
    if (delivered < 0 && typed.text.find ('(') == std::string::npos)
        delivered += time::labelsPerDay (theDelivery.rate);
    const auto at = atDelivered (delivered, reel);
    if (! at)
        return usageError ("tc:" + typed.text, "the film does not have it; it runs from " + timecodeOf (0, reel) + " to "
                                                   + timecodeOf (deliveredLength (reel), reel));
    return at;
}

Result<Position> Timings::findSeconds (const TypedPlace& typed, std::size_t reel) const
{
    const bool afterEnd = typed.kind == TypedPlace::Kind::afterEnd;
    if (afterEnd && typed.seconds.sign() == 0)
        return atFilmFrame (reels[reel].time.frames(), reel);
    if (afterEnd || typed.seconds.sign() < 0)
    {
        // Only the film as a whole has an outside: before its first reel, after its last.
        const std::size_t right = afterEnd ? reels.size() - 1 : 0;
        if (reel != right)
            return usageError ("reel " + std::to_string (reel + 1), std::string ("a place ")
                                                                        + (afterEnd ? "after picture end" : "before picture start")
                                                                        + " belongs to reel " + std::to_string (right + 1));
        return find (Place{ OutsidePlace{ afterEnd, typed.seconds } });
    }
    const auto length = clockOf (deliveredLength (reel));
    if (! typed.seconds.valid() || typed.seconds > length)
        return usageError (time::fractionText (typed.seconds) + "s",
                           "the film does not have it; it is " + time::secondsText (length) + " s long");
    // The frame on screen at that instant.
    const auto frames = typed.seconds * theDelivery.rate.perSecond;
    if (! frames.valid())
        return usageError (time::fractionText (typed.seconds) + "s", "is too fine a fraction; round it");
    return atDelivered (time::floorOf (frames), reel);
}

Place Timings::placeAt (const Position& position) const
{
    const Shot& shot = theEdition.shots[position.shot];
    // The same picture or shot may be used more than once: count the uses before this one.
    const auto usesBefore = [&] (auto same)
    {
        return static_cast<int> (
            std::count_if (theEdition.shots.begin(), theEdition.shots.begin() + static_cast<std::ptrdiff_t> (position.shot), same));
    };
    const auto sameShot = [&] (const Shot& other) { return other.id == shot.id; };
    switch (position.where)
    {
    case Position::Where::picture:
    {
        const std::int64_t source = shot.first + position.frameInShot;
        return PicturePlace{
            shot.print, source,
            usesBefore ([&] (const Shot& other)
                        { return ! other.made && other.print == shot.print && source >= other.first && source < other.end; })
        };
    }
    case Position::Where::made:
    {
        const bool tail = position.secondsInShot * time::Rational (2) > *shot.made;
        return EdgePlace{ shot.id, tail ? Edge::tail : Edge::head,
                          tail ? position.secondsInShot - *shot.made : position.secondsInShot, usesBefore (sameShot) };
    }
    case Position::Where::end:
        return EdgePlace{ shot.id, Edge::tail, std::int64_t{ 0 }, usesBefore (sameShot) };
    case Position::Where::outside:
        break;
    }
    return OutsidePlace{ position.afterEnd, position.outsideSeconds };
}

Result<Place> Timings::placeFor (const TypedPlace& typed) const
{
    const auto position = find (typed);
    if (! position)
        return position.error();
    if (typed.kind != TypedPlace::Kind::edge)
        return placeAt (*position);
    const auto edge = edgeFor (typed);
    if (! edge)
        return edge.error();
    return Place{ *edge };
}

std::string Timings::placeText (const Place& place) const
{
    if (const auto* edge = std::get_if<EdgePlace> (&place))
        return "edge:" + edge->shot + (edge->instance > 0 ? "#" + std::to_string (edge->instance + 1) : "")
               + (edge->edge == Edge::head ? ".head" : ".tail") + offsetText (edge->offset);
    if (const auto* outside = std::get_if<OutsidePlace> (&place))
    {
        if (! outside->afterEnd)
            return time::fractionText (outside->seconds) + "s";
        return (reels.size() > 1 ? "r" + std::to_string (reels.size()) + ":" : "") + "end" + offsetText (outside->seconds);
    }
    const auto position = findPicture (std::get<PicturePlace> (place));
    if (! position)
        return "film frame " + std::to_string (std::get<PicturePlace> (place).filmFrame) + " (not in this edition)";
    const std::string frame = "film:" + std::to_string (position->filmFrame);
    return position->reel > 0 ? "r" + std::to_string (position->reel + 1) + ":" + frame : frame;
}
} // namespace shutterbeat::film
