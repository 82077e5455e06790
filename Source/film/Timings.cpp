#include "film/Timings.h"

#include "time/Text.h"
#include "time/Timecode.h"

#include <algorithm>

namespace shutterbeat::film
{
const Print* Timings::print (const std::string& id) const
{
    const auto found = std::find_if (thePrints.begin(), thePrints.end(), [&] (const Print& p) { return p.id == id; });
    return found == thePrints.end() ? nullptr : &*found;
}

std::int64_t Timings::deliveredLength (std::size_t reel) const
{
    return deliveredFrame (reels[reel].time.length(), theDelivery.countingRate());
}

std::string Timings::timecodeOf (std::int64_t delivered, std::size_t reel) const
{
    if (! time::hasTimecode (theDelivery.rate))
        return "";
    return time::labelOf (reels[reel].startCount + delivered, theDelivery.rate).shown();
}

time::Rational Timings::clockOf (std::int64_t delivered) const
{
    return time::Rational (delivered) / theDelivery.rate.perSecond;
}

std::size_t Timings::reelOfShot (std::size_t shot) const
{
    std::size_t r = reels.size() - 1;
    while (r > 0 && reels[r].firstShot > shot)
        --r;
    return r;
}

Position Timings::inShot (std::size_t shot, std::int64_t frame) const
{
    Position p;
    p.reel = reelOfShot (shot);
    p.shot = shot;
    const auto& reel = reels[p.reel];
    const std::size_t span = shot - reel.firstShot;
    p.frameInShot = frame;
    p.filmFrame = reel.time.spanFirst (span) + frame;
    p.time = reel.time.spanStart (span) + time::Rational (frame) / speedOf (theEdition, theEdition.shots[shot]);
    return p;
}

Position Timings::inMade (std::size_t shot, const time::Rational& seconds) const
{
    Position p;
    p.where = Position::Where::made;
    p.reel = reelOfShot (shot);
    p.shot = shot;
    const auto& reel = reels[p.reel];
    const std::size_t span = shot - reel.firstShot;
    p.secondsInShot = seconds;
    p.filmFrame = reel.time.spanFirst (span);
    p.time = reel.time.spanStart (span) + seconds;
    return p;
}

Position Timings::shotHead (std::size_t shot) const
{
    if (shot < theEdition.shots.size())
        return theEdition.shots[shot].made ? inMade (shot, 0) : inShot (shot, 0);
    Position p;
    p.where = Position::Where::end;
    p.reel = reels.size() - 1;
    p.shot = theEdition.shots.size() - 1;
    p.filmFrame = reels.back().time.frames();
    p.time = reels.back().time.length();
    return p;
}

Result<Position> Timings::atFilmFrame (std::int64_t filmFrame, std::size_t reel) const
{
    const auto& filmTime = reels[reel].time;
    if (filmFrame < 0 || filmFrame > filmTime.frames())
        return usageError ("film:" + std::to_string (filmFrame),
                           "the film does not have it; its film frames go from 0 to " + std::to_string (filmTime.frames() - 1));
    if (filmFrame == filmTime.frames())
    {
        if (reel + 1 == reels.size())
            return shotHead (theEdition.shots.size());
        Position end = shotHead (reels[reel + 1].firstShot - 1);
        end.where = Position::Where::end;
        end.reel = reel;
        end.filmFrame = filmTime.frames();
        end.time = filmTime.length();
        return end;
    }
    const std::size_t span = filmTime.spanOf (filmFrame);
    return inShot (reels[reel].firstShot + span, filmFrame - filmTime.spanFirst (span));
}

Result<Position> Timings::atDelivered (std::int64_t delivered, std::size_t reel) const
{
    const std::int64_t length = deliveredLength (reel);
    if (delivered < 0 || delivered > length)
        return usageError ("delivered frame " + std::to_string (delivered),
                           "the film does not have it; its delivered frames go from 0 to " + std::to_string (length - 1));
    if (delivered == length)
        return atFilmFrame (reels[reel].time.frames(), reel);
    const auto seconds = time::Rational (delivered) / theDelivery.countingRate();
    const auto shown = reels[reel].time.shownAt (seconds);
    const std::size_t shot = reels[reel].firstShot + shown.span;
    if (theEdition.shots[shot].made)
        return inMade (shot, seconds - reels[reel].time.spanStart (shown.span));
    return inShot (shot, shown.frameInSpan);
}

Result<DeliveredPicture> Timings::pictureAt (std::int64_t delivered, std::size_t reel) const
{
    const auto position = atDelivered (delivered, reel);
    if (! position)
        return position.error();
    if (position->where == Position::Where::end)
        return usageError ("delivered frame " + std::to_string (delivered), "lies after the last frame of the film");
    DeliveredPicture picture{ position->shot, position->where == Position::Where::made, position->filmFrame, {} };
    if (! picture.made)
        picture.sourceFrame = theEdition.shots[position->shot].first + position->frameInShot;
    return picture;
}

const time::Gauge& Timings::gauge() const
{
    static const time::Gauge usual;
    for (const auto& shot : theEdition.shots)
        if (const auto* found = shot.made ? nullptr : print (shot.print))
            return found->gauge;
    return usual;
}

PlaceTimes Timings::times (const Position& position) const
{
    PlaceTimes t;
    t.reel = position.reel;
    t.filmFrame = position.filmFrame;
    t.feet = time::feetText (position.filmFrame, gauge());
    const auto rate = theDelivery.countingRate();
    t.delivered = deliveredFrame (position.time, rate);
    t.clock = clockOf (t.delivered);
    if (position.where == Position::Where::outside)
    {
        // Outside the picture there are no frames to fall on: the seconds are kept exact, the frame is the first at
        // or after them.
        t.clock += position.outsideSeconds;
        t.delivered = deliveredFrame (t.clock, theDelivery.rate.perSecond);
    }
    t.timecode = timecodeOf (t.delivered, position.reel);
    if (position.where == Position::Where::picture)
    {
        const Shot& shot = theEdition.shots[position.shot];
        t.sourceFrame = shot.first + position.frameInShot;
        if (const auto* from = print (shot.print))
            if (const auto in = reelFrameOf (*from, *t.sourceFrame))
            {
                t.fileFrame = in->fileFrame;
                t.reelFile = in->reel;
            }
        const auto& filmTime = reels[position.reel].time;
        const auto at = time::Rational (t.delivered) / rate;
        if (at >= filmTime.length())
            t.notShown = true;
        else
        {
            const auto shown = filmTime.shownAt (at);
            t.notShown = reels[position.reel].firstShot + shown.span != position.shot || shown.frameInSpan != position.frameInShot;
        }
    }
    return t;
}
} // namespace shutterbeat::film
