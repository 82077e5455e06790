#include "play/Course.h"

#include "play/Reels.h"

#include <algorithm>

namespace shutterbeat::play
{
namespace
{
using Where = film::Position::Where;

film::Position onPicture (const film::Timings& timings, const film::Position& position)
{
    if (position.where == Where::picture || position.where == Where::made)
        return position;
    const auto& shots = timings.edition().shots;
    if (position.where == Where::outside && ! position.afterEnd)
        return timings.shotHead (position.reel < timings.reelCount() ? timings.edition().reels[position.reel].firstShot : 0);
    const std::size_t shot = std::min (position.shot, shots.size() - 1);
    if (shots[shot].made)
        return timings.shotHead (shot);
    const auto head = timings.shotHead (shot);
    const auto last = timings.atFilmFrame (head.filmFrame + shots[shot].frames() - 1, head.reel);
    return last ? *last : head;
}

/// The number of a picture that is on screen at `offset` of a leg, from 0.
std::int64_t numberAt (const time::Rational& offset, const time::Rational& perSecond, bool before)
{
    return before ? time::ceilOf (offset * perSecond) - 1 : time::floorOf (offset * perSecond);
}
} // namespace

OnScreen onScreen (const film::Timings& timings, const film::Position& position)
{
    const auto there = onPicture (timings, position);
    const auto last = std::max<std::int64_t> (0, timings.deliveredLength (there.reel) - 1);
    return { there, std::min (timings.times (there).delivered, last) };
}

Course::Course (std::shared_ptr<const film::Timings> of, const Pace& pace)
    : timings (std::move (of))
    , asDelivered (pace.running == Running::delivered)
{
    const auto& rate = timings->delivery().rate.perSecond;
    if (asDelivered)
    {
        whole = time::Rational (deliveredBefore (*timings, timings->reelCount())) / rate;
        return;
    }
    const auto& edition = timings->edition();
    for (std::size_t i = 0; i < edition.shots.size(); ++i)
    {
        const auto& shot = edition.shots[i];
        Leg leg;
        leg.start = whole;
        leg.head = timings->shotHead (i);
        leg.headDelivered = timings->times (leg.head).delivered;
        if (shot.made)
        {
            // A made card is shown in whole delivered frames; its length is its own all the same.
            leg.perSecond = rate;
            leg.pictures = std::max<std::int64_t> (1, time::ceilOf (*shot.made * rate));
            whole += *shot.made;
        }
        else
        {
            leg.perSecond = pace.running == Running::oneSpeed ? pace.speed : film::speedOf (edition, shot);
            leg.pictures = shot.frames();
            whole += time::Rational (leg.pictures) / leg.perSecond;
        }
        legs.push_back (std::move (leg));
    }
}

std::int64_t Course::numberIn (const Leg& leg, const OnScreen& shown) const
{
    const auto number = shown.at.where == Where::made ? shown.delivered - leg.headDelivered : shown.at.frameInShot;
    return std::clamp<std::int64_t> (number, 0, leg.pictures - 1);
}

OnScreen Course::at (const time::Rational& seconds, bool before) const
{
    if (asDelivered)
    {
        const auto frame = numberAt (seconds, timings->delivery().rate.perSecond, before);
        const ReelSpot spot = reelSpotOf (*timings, frame);
        if (const auto at = timings->atDelivered (spot.delivered, spot.reel))
            return { onPicture (*timings, *at), spot.delivered };
        return onScreen (*timings, timings->shotHead (0));
    }
    const auto later = before ? std::lower_bound (legs.begin(), legs.end(), seconds,
                                                  [] (const Leg& leg, const time::Rational& x) { return leg.start < x; })
                              : std::upper_bound (legs.begin(), legs.end(), seconds,
                                                  [] (const time::Rational& x, const Leg& leg) { return x < leg.start; });
    const auto& leg = later == legs.begin() ? legs.front() : *std::prev (later);
    const auto number = std::clamp<std::int64_t> (numberAt (seconds - leg.start, leg.perSecond, before), 0, leg.pictures - 1);
    if (leg.head.where == Where::made)
    {
        if (const auto at = timings->atDelivered (leg.headDelivered + number, leg.head.reel); at && at->shot == leg.head.shot)
            return { *at, leg.headDelivered + number };
        return onScreen (*timings, leg.head);
    }
    const auto at = timings->atFilmFrame (leg.head.filmFrame + number, leg.head.reel);
    return onScreen (*timings, at ? *at : leg.head);
}

time::Rational Course::startOf (const OnScreen& shown) const
{
    if (asDelivered)
        return time::Rational (deliveredBefore (*timings, shown.at.reel) + shown.delivered) / timings->delivery().rate.perSecond;
    const auto& leg = legs[std::min (shown.at.shot, legs.size() - 1)];
    return leg.start + time::Rational (numberIn (leg, shown)) / leg.perSecond;
}

time::Rational Course::endOf (const OnScreen& shown) const
{
    if (asDelivered)
        return startOf (shown) + time::Rational (1) / timings->delivery().rate.perSecond;
    const std::size_t shot = std::min (shown.at.shot, legs.size() - 1);
    const auto end = startOf (shown) + time::Rational (1) / legs[shot].perSecond;
    // The last delivered frame of a made card may be cut short by the shot after it.
    return std::min (end, shot + 1 < legs.size() ? legs[shot + 1].start : whole);
}
} // namespace shutterbeat::play
