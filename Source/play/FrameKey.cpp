#include "play/FrameKey.h"

#include "play/Reels.h"

#include <algorithm>

namespace shutterbeat::play
{
FilmFiles::FilmFiles (const std::vector<film::Print>& prints, const std::vector<std::vector<std::string>>& paths)
{
    for (std::size_t p = 0; p < prints.size() && p < paths.size(); ++p)
    {
        firsts.push_back ({ prints[p].id, allPaths.size() });
        allPaths.insert (allPaths.end(), paths[p].begin(), paths[p].end());
    }
}

std::optional<FrameKey> FilmFiles::keyAt (const film::Timings& timings, const film::Position& position) const
{
    if (position.where != film::Position::Where::picture)
        return {};
    const auto& shot = timings.edition().shots[position.shot];
    const auto* print = timings.print (shot.print);
    return print == nullptr ? std::nullopt : keyOf (*print, shot.first + position.frameInShot);
}

std::optional<FrameKey> FilmFiles::keyOf (const film::Print& print, std::int64_t filmFrame) const
{
    const auto first = std::find_if (firsts.begin(), firsts.end(), [&] (const First& f) { return f.print == print.id; });
    if (first == firsts.end())
        return {};
    const auto in = film::reelFrameOf (print, filmFrame);
    if (! in || first->file + in->reel >= allPaths.size() || allPaths[first->file + in->reel].empty())
        return {};
    return FrameKey{ first->file + in->reel, in->fileFrame };
}

std::vector<FrameKey> wantedKeys (const FilmFiles& files, const film::Timings& timings, const film::Position& position,
                                  int direction, int count)
{
    constexpr int runLength = 12; // pictures decoded in one sweep when going back
    std::vector<FrameKey> keys;
    const auto add = [&] (const film::Position& at)
    {
        if (const auto key = files.keyAt (timings, at); key && std::find (keys.begin(), keys.end(), *key) == keys.end())
            keys.push_back (*key);
    };
    add (position);
    if (direction >= 0)
    {
        film::Position at = position;
        for (int i = 0; i < count; ++i)
        {
            const auto next = stepped (timings, at, 1);
            if (! comesBefore (at, next))
                break;
            at = next;
            add (at);
        }
        return keys;
    }
    for (int done = 0; done < count; done += runLength)
        for (int back = std::min (done + runLength, count); back > done; --back)
            add (stepped (timings, position, -back));
    return keys;
}
} // namespace shutterbeat::play
