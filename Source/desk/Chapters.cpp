#include "desk/Chapters.h"

#include "desk/RenderPlan.h"
#include "media/FilmFile.h"
#include "media/FrameIndex.h"
#include "media/MovieChapters.h"
#include "time/Clock.h"
#include "time/Timecode.h"

namespace shutterbeat::desk
{
namespace
{
/// A movie of a reel and how many of its frames come before the picture.
struct MovieOfReel
{
    media::FilmInfo info;
    std::int64_t leader = 0;
};

Result<MovieOfReel> movieOf (const film::Timings& timings, std::size_t reel, const std::string& movie,
                             const std::optional<int>& leaderSeconds)
{
    if (reel >= timings.reelCount())
        return usageError ("reel " + std::to_string (reel + 1),
                           "the edition has " + std::to_string (timings.reelCount()) + " of them");
    auto info = media::openFilm (movie);
    if (! info)
        return info.error();
    const auto& rate = timings.delivery().rate;
    if (info->rate != rate.perSecond)
        return usageError (movie, "runs at " + time::decimalText (info->rate, 3) + " pictures a second, but the delivery at "
                                      + time::rateName (rate) + "; name the movie's rate with --final");
    MovieOfReel found{ std::move (*info), 0 };
    if (leaderSeconds)
    {
        const auto plan = RenderPlan::of (timings, reel, *leaderSeconds, false);
        if (! plan)
            return plan.error();
        found.leader = plan->leaderFrames();
    }
    else if (! found.info.startLabel.empty() && time::hasTimecode (rate))
    {
        const auto day = time::labelsPerDay (rate);
        found.leader = ((timings.startCount (reel) - found.info.startFrame) % day + day) % day;
    }
    if (found.leader + timings.deliveredLength (reel) > found.info.frames)
        return usageError (movie,
                           "has " + std::to_string (found.info.frames) + " frames, but "
                               + (found.leader > 0 ? "a leader of " + std::to_string (found.leader) + " and " : std::string())
                               + "the picture need " + std::to_string (found.leader + timings.deliveredLength (reel))
                               + "; is it of this edition, rate and fill? Say how long its leader is with --leader");
    return found;
}
} // namespace

Result<std::int64_t> leaderOfMovie (const film::Timings& timings, std::size_t reel, const std::string& movie,
                                    const std::optional<int>& leaderSeconds)
{
    const auto found = movieOf (timings, reel, movie, leaderSeconds);
    return found ? Result<std::int64_t> (found->leader) : found.error();
}

Result<MovieChapters> chaptersForMovie (const OpenBook& open, const std::string& movie, const ChaptersWish& wish)
{
    const auto times = spotting::timesOf (open.book, wish.asked);
    if (! times)
        return times.error();
    const auto found = movieOf (times->timings, wish.reel, movie, wish.leaderSeconds);
    if (! found)
        return found.error();
    auto chapters = exchange::chaptersOf (*times, { open.book.title, "" }, { true, wish.ids }, wish.reel);
    if (! chapters)
        return chapters.error();
    MovieChapters made{ std::move (*chapters), found->leader, found->info.frames, times->notes };
    if (wish.onKeyPictures)
    {
        const auto index = media::readFrameIndex (movie);
        if (! index)
            return index.error();
        std::vector<std::int64_t> keys;
        for (std::int64_t k = 0; k < index->size(); ++k)
            if (index->frames[static_cast<std::size_t> (k)].key)
                keys.push_back (k - found->leader);
        made.chapters =
            exchange::onKeyFrames (std::move (made.chapters), keys, times->timings.delivery().rate.perSecond, made.notes);
        // Two that came to lie on one key picture are one chapter with both titles.
        std::vector<exchange::Chapter> joined;
        for (auto& chapter : made.chapters)
            if (! joined.empty() && joined.back().frame == chapter.frame)
                joined.back().title += " / " + chapter.title;
            else
                joined.push_back (std::move (chapter));
        made.chapters = std::move (joined);
    }
    return made;
}

Result<Done> writeMovieChapters (const OpenBook& open, const std::string& movie, const std::string& path, const ChaptersWish& wish,
                                 const MovieChapters& chapters, const Progress& progress)
{
    const auto timings = spotting::timingsOf (open.book, wish.asked);
    if (! timings)
        return timings.error();
    std::vector<media::MovieChapter> list;
    // MP4 begins its first chapter with the movie, whatever it is told: the leader has one of its own.
    if (chapters.leaderFrames > 0)
        list.push_back ({ time::Rational (0), timings->clockOf (chapters.leaderFrames), "Leader" });
    for (std::size_t i = 0; i < chapters.chapters.size(); ++i)
    {
        const auto end =
            i + 1 < chapters.chapters.size() ? chapters.chapters[i + 1].frame + chapters.leaderFrames : chapters.frames;
        list.push_back ({ timings->clockOf (chapters.chapters[i].frame + chapters.leaderFrames), timings->clockOf (end),
                          chapters.chapters[i].title });
    }
    return media::copyWithChapters (movie, path, list,
                                    [&] (double fraction) { return ! progress || progress (fraction, "copying the movie"); });
}

Result<std::string> chapterListOfMovie (const OpenBook& open, const std::string& movie, const ImportWish& wish,
                                        std::vector<std::string>& notes)
{
    const auto timings = spotting::timingsOf (open.book, wish.asked);
    if (! timings)
        return timings.error();
    const auto found = movieOf (*timings, wish.reel, movie, {});
    if (! found)
        return found.error();
    const auto chapters = media::readMovieChapters (movie);
    if (! chapters)
        return chapters.error();
    const auto picture = timings->clockOf (found->leader);
    std::vector<exchange::ListedChapter> list;
    for (const auto& chapter : *chapters)
        if (const auto start = chapter.start - picture; time::roundOf (start * timings->delivery().rate.perSecond) < 0)
            notes.push_back ("chapter \"" + chapter.title + "\" begins before the picture and is left out");
        else
            list.push_back ({ 1, start, chapter.end - picture, chapter.title });
    return exchange::chapterListText (list);
}
} // namespace shutterbeat::desk
