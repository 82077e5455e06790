#include "film/Print.h"

#include <algorithm>
#include <numeric>

namespace shutterbeat::film
{
std::int64_t filmFramesOf (const Print& print)
{
    std::int64_t total = 0;
    for (const auto& reel : print.reels)
        total += reel.cadence.filmFrames();
    return total;
}

Result<ReelFrame> reelFrameOf (const Print& print, std::int64_t filmFrame)
{
    std::int64_t left = filmFrame;
    for (std::size_t i = 0; left >= 0 && i < print.reels.size(); ++i)
    {
        const auto& cadence = print.reels[i].cadence;
        if (left < cadence.filmFrames())
            return ReelFrame{ i, left, cadence.firstFileFrame (left) };
        left -= cadence.filmFrames();
    }
    return usageError ("print " + print.name,
                       "has no film frame " + std::to_string (filmFrame) + "; it has " + std::to_string (filmFramesOf (print)));
}

Result<std::int64_t> filmFrameOf (const Print& print, std::size_t reel, std::int64_t fileFrame)
{
    std::int64_t before = 0;
    for (std::size_t i = 0; i < print.reels.size(); ++i)
    {
        const auto& cadence = print.reels[i].cadence;
        if (i == reel)
        {
            if (fileFrame < 0 || fileFrame >= cadence.fileFrames())
                return usageError (print.reels[i].path, "has no file frame " + std::to_string (fileFrame) + "; it has "
                                                            + std::to_string (cadence.fileFrames()));
            return before + cadence.filmFrameAt (fileFrame);
        }
        before += cadence.filmFrames();
    }
    return usageError ("print " + print.name, "has no reel " + std::to_string (reel + 1));
}

std::optional<time::Rational> measuredSpeed (const ReelFile& reel)
{
    // Only the regular body tells; the odd run at either end of a file would bend an average.
    const auto runs = reel.cadence.runs();
    const auto longest =
        std::max_element (runs.begin(), runs.end(), [] (const auto& a, const auto& b) { return a.filmFrames < b.filmFrames; });
    if (longest == runs.end() || longest->filmFrames * 2 < reel.cadence.filmFrames())
        return {};
    const auto cycleFiles = std::accumulate (longest->cycle.begin(), longest->cycle.end(), std::int64_t{ 0 });
    const auto cycleFilm = static_cast<std::int64_t> (longest->cycle.size());
    if (cycleFiles == cycleFilm)
        return {};
    return reel.rate * time::Rational (cycleFilm, cycleFiles);
}
} // namespace shutterbeat::film
