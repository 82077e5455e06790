#include "play/FrameCache.h"

#include <limits>

namespace shutterbeat::play
{
namespace
{
constexpr std::size_t unwanted = std::numeric_limits<std::size_t>::max();

std::size_t bytesOf (const PicturePtr& picture)
{
    return picture ? picture->rgb.size() + sizeof (media::Picture) : 0;
}
} // namespace

void FrameCache::want (std::vector<FrameKey> keys)
{
    ranks.clear();
    for (std::size_t i = 0; i < keys.size(); ++i)
        ranks.emplace (keys[i], i);
}

PicturePtr FrameCache::find (const FrameKey& key)
{
    const auto found = frames.find (key);
    if (found == frames.end())
        return {};
    found->second.lastUse = ++uses;
    return found->second.picture;
}

std::size_t FrameCache::rankOf (const FrameKey& key) const
{
    const auto found = ranks.find (key);
    return found == ranks.end() ? unwanted : found->second;
}

bool FrameCache::dropOneBelow (std::size_t rank)
{
    auto worst = frames.end();
    std::size_t worstRank = 0;
    for (auto it = frames.begin(); it != frames.end(); ++it)
    {
        const std::size_t itsRank = rankOf (it->first);
        const bool worse =
            worst == frames.end() || itsRank > worstRank || (itsRank == worstRank && it->second.lastUse < worst->second.lastUse);
        if (worse)
        {
            worst = it;
            worstRank = itsRank;
        }
    }
    // Unwanted against unwanted: the newer stays.
    if (worst == frames.end() || (worstRank <= rank && worstRank != unwanted))
        return false;
    used -= bytesOf (worst->second.picture);
    frames.erase (worst);
    return true;
}

bool FrameCache::add (const FrameKey& key, PicturePtr picture)
{
    const std::size_t size = bytesOf (picture);
    if (const auto old = frames.find (key); old != frames.end())
    {
        used -= bytesOf (old->second.picture);
        frames.erase (old);
    }
    while (used + size > budget && ! frames.empty())
        if (! dropOneBelow (rankOf (key)))
            return false;
    frames.emplace (key, Kept{ std::move (picture), ++uses });
    used += size;
    return true;
}

void FrameCache::clear()
{
    frames.clear();
    used = 0;
}
} // namespace shutterbeat::play
