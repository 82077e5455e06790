#include "play/Reels.h"

#include <algorithm>

namespace shutterbeat::play
{
namespace
{
/// A shot's pictures as single steps see them.
std::int64_t picturesOf (const film::Shot& shot)
{
    return shot.made ? 1 : shot.frames();
}

film::Position inShot (const film::Timings& timings, std::size_t shot, std::int64_t picture)
{
    const film::Position head = timings.shotHead (shot);
    if (picture == 0 || timings.edition().shots[shot].made)
        return head;
    const auto at = timings.atFilmFrame (head.filmFrame + picture, head.reel);
    return at ? *at : head;
}
} // namespace

std::int64_t deliveredBefore (const film::Timings& timings, std::size_t reel)
{
    std::int64_t sum = 0;
    for (std::size_t r = 0; r < reel && r < timings.reelCount(); ++r)
        sum += timings.deliveredLength (r);
    return sum;
}

ReelSpot reelSpotOf (const film::Timings& timings, std::int64_t deliveredInAll)
{
    std::int64_t left = std::max<std::int64_t> (0, deliveredInAll);
    for (std::size_t r = 0; r < timings.reelCount(); ++r)
    {
        const std::int64_t length = timings.deliveredLength (r);
        if (left < length)
            return { r, left };
        left -= length;
    }
    const std::size_t last = timings.reelCount() - 1;
    return { last, std::max<std::int64_t> (0, timings.deliveredLength (last) - 1) };
}

std::int64_t deliveredInAll (const film::Timings& timings, const film::Position& position)
{
    const std::int64_t whole = deliveredBefore (timings, timings.reelCount());
    const std::int64_t at = deliveredBefore (timings, position.reel) + timings.times (position).delivered;
    return std::clamp<std::int64_t> (at, 0, std::max<std::int64_t> (0, whole - 1));
}

film::Position stepped (const film::Timings& timings, const film::Position& from, std::int64_t steps)
{
    const auto& shots = timings.edition().shots;
    std::size_t shot = std::min (from.shot, shots.size() - 1);
    std::int64_t picture = from.where == film::Position::Where::picture ? from.frameInShot : 0;
    if (from.where == film::Position::Where::end)
        picture = picturesOf (shots[shot]);
    else if (from.where == film::Position::Where::outside)
    {
        shot = from.afterEnd ? shots.size() - 1 : 0;
        picture = from.afterEnd ? picturesOf (shots[shot]) : -1;
    }
    picture += steps;
    while (picture < 0 && shot > 0)
        picture += picturesOf (shots[--shot]);
    while (picture >= picturesOf (shots[shot]) && shot + 1 < shots.size())
        picture -= picturesOf (shots[shot++]);
    return inShot (timings, shot, std::clamp<std::int64_t> (picture, 0, picturesOf (shots[shot]) - 1));
}

bool comesBefore (const film::Position& a, const film::Position& b)
{
    return a.reel != b.reel ? a.reel < b.reel : a.time < b.time;
}
} // namespace shutterbeat::play
