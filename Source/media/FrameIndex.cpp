#include "media/FrameIndex.h"

#include "media/IndexedFilm.h"

#include <algorithm>
#include <iterator>

namespace shutterbeat::media
{
void FrameIndex::noteKeys()
{
    keys.clear();
    for (std::size_t i = 0; i < packets.size(); ++i)
        if (packets[i].key && ! packets[i].secondField)
            keys.push_back (static_cast<std::int64_t> (i));
}

std::int64_t FrameIndex::decodeStart (std::int64_t frame) const
{
    if (frame < 0 || frame >= size())
        return 0;
    const auto& wanted = frames[static_cast<std::size_t> (frame)];
    for (auto key = std::upper_bound (keys.begin(), keys.end(), wanted.packet); key != keys.begin();)
    {
        const auto& candidate = packets[static_cast<std::size_t> (*--key)];
        // A key packet that the edit list hides has no place in the order; what is decoded after it is shown after it
        // unless its timestamp says otherwise.
        const bool shownBefore = candidate.frame >= 0
                                     ? candidate.frame <= frame
                                     : candidate.hidden && candidate.pts != noTimestamp && candidate.pts <= wanted.pts;
        if (shownBefore)
            return *key;
    }
    return 0;
}

std::int64_t FrameIndex::keyBefore (std::int64_t packet) const
{
    const auto key = std::lower_bound (keys.begin(), keys.end(), packet);
    return key == keys.begin() ? 0 : *std::prev (key);
}

Result<FrameIndex> readFrameIndex (const std::string& path)
{
    auto film = indexFilm (path);
    if (! film)
        return film.error();
    return std::move (film.value().index);
}
} // namespace shutterbeat::media
