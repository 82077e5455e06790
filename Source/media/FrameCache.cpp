#include "media/FrameCache.h"

#include <cstdlib>
#include <iterator>

namespace shutterbeat::media
{
namespace
{
std::size_t bytesOf (const AVFrame& frame)
{
    std::size_t bytes = 0;
    for (const auto* buffer : frame.buf)
        if (buffer != nullptr)
            bytes += static_cast<std::size_t> (buffer->size);
    return bytes;
}
} // namespace

void FrameCache::drop (std::map<std::int64_t, KeptFrame>::iterator at)
{
    used -= bytesOf (*at->second.frame);
    kept.erase (at);
}

void FrameCache::keep (std::int64_t frame, KeptFrame picture, std::int64_t target, bool backward)
{
    if (const auto old = kept.find (frame); old != kept.end())
        drop (old);
    used += bytesOf (*picture.frame);
    kept.emplace (frame, std::move (picture));
    while (used > budget && kept.size() > 1)
    {
        const auto lowest = kept.begin();
        const auto highest = std::prev (kept.end());
        // One step forward again must be quick; more than that would push out the head of a long group, which is decoded
        // but once only if all of it stays.
        constexpr std::int64_t behind = 16;
        const auto above = std::abs (highest->first - target) * (backward && highest->first > target ? behind : 1);
        drop (std::abs (lowest->first - target) > above ? lowest : highest);
    }
}

const KeptFrame* FrameCache::find (std::int64_t frame) const
{
    const auto at = kept.find (frame);
    return at == kept.end() ? nullptr : &at->second;
}

void FrameCache::forget (std::int64_t frame)
{
    if (const auto at = kept.find (frame); at != kept.end())
        drop (at);
}

void FrameCache::clear()
{
    kept.clear();
    used = 0;
}
} // namespace shutterbeat::media
