#include "desk/ListedFrames.h"

#include <algorithm>
#include <string>

namespace shutterbeat::desk
{
namespace
{
using time::Rational;

std::vector<OldFrame> filmFramesOf (const film::Edition& edition)
{
    std::vector<OldFrame> frames;
    for (std::size_t s = 0; s < edition.shots.size(); ++s)
    {
        const auto& shot = edition.shots[s];
        const auto count = shot.made ? time::roundOf (*shot.made * film::speedOf (edition, shot)) : shot.frames();
        for (std::int64_t k = 0; k < count; ++k)
            frames.push_back ({ s, k });
    }
    return frames;
}

std::vector<OldFrame> deliveredFramesOf (const film::Timings& timings)
{
    std::vector<OldFrame> frames;
    const auto& edition = timings.edition();
    for (std::size_t reel = 0; reel < timings.reelCount(); ++reel)
    {
        // Film frames of the reel before each of its shots.
        std::vector<std::int64_t> firsts (edition.shots.size(), 0);
        for (auto s = edition.reels[reel].firstShot; s + 1 < edition.shots.size(); ++s)
            firsts[s + 1] = firsts[s] + edition.shots[s].frames();
        std::int64_t madeFrames = 0;
        for (std::int64_t j = 0; j < timings.deliveredLength (reel); ++j)
        {
            const auto picture = timings.pictureAt (j, reel);
            if (! picture)
                return {};
            const bool goesOn = ! frames.empty() && frames.back().shot == picture->shot;
            madeFrames = picture->made && goesOn ? madeFrames + 1 : 0;
            frames.push_back ({ picture->shot, picture->made ? madeFrames : picture->filmFrame - firsts[picture->shot] });
        }
    }
    return frames;
}

/// Only where the edition is all of one print, from front to back.
std::vector<OldFrame> fileFramesOf (const spotting::Book& book, const film::Edition& edition)
{
    const auto films = filmFramesOf (edition);
    const auto print = std::find_if (book.prints.begin(), book.prints.end(),
                                     [&] (const film::Print& p) { return p.id == edition.shots.front().print; });
    std::int64_t at = 0;
    for (const auto& shot : edition.shots)
    {
        if (shot.made || shot.print != edition.shots.front().print || shot.first != at)
            return {};
        at = shot.end;
    }
    if (print == book.prints.end() || at != film::filmFramesOf (*print))
        return {};
    std::vector<OldFrame> frames;
    std::int64_t before = 0;
    for (const auto& reel : print->reels)
    {
        for (std::int64_t file = 0; file < reel.cadence.fileFrames(); ++file)
            frames.push_back (films[static_cast<std::size_t> (before + reel.cadence.filmFrameAt (file))]);
        before += reel.cadence.filmFrames();
    }
    return frames;
}

const char* countsName (ListCounts counts)
{
    return counts == ListCounts::filmFrames  ? "film frames"
           : counts == ListCounts::delivered ? "delivered frames"
                                             : "frames of the file";
}
} // namespace

Result<ListCounts> parseListCounts (std::string_view text)
{
    if (text == "film")
        return ListCounts::filmFrames;
    if (text == "delivered")
        return ListCounts::delivered;
    if (text == "file")
        return ListCounts::fileFrames;
    return usageError ("counts " + std::string (text), "say film, delivered or file");
}

Result<OldEdition> oldEdition (const spotting::Book& book, const film::Timings& timings, std::int64_t length,
                               const time::Rate& rate, std::optional<ListCounts> wanted)
{
    const auto& edition = timings.edition();
    std::string lengths;
    for (const auto counts : { ListCounts::filmFrames, ListCounts::delivered, ListCounts::fileFrames })
    {
        if (wanted && *wanted != counts)
            continue;
        OldEdition old{ counts, {}, Rational (1), Rational (1) / edition.speed };
        if (counts == ListCounts::filmFrames)
            old.frames = filmFramesOf (edition);
        else if (counts == ListCounts::delivered)
        {
            old.frames = deliveredFramesOf (timings);
            old.secondsAFrame = Rational (1) / timings.delivery().countingRate();
            old.filmAFrame = edition.speed * old.secondsAFrame;
        }
        else
        {
            old.frames = fileFramesOf (book, edition);
            if (! old.frames.empty())
                old.filmAFrame = Rational (static_cast<std::int64_t> (filmFramesOf (edition).size()),
                                           static_cast<std::int64_t> (old.frames.size()));
            old.secondsAFrame = old.filmAFrame / edition.speed;
        }
        if (static_cast<std::int64_t> (old.frames.size()) == length)
            return old;
        if (! old.frames.empty())
            lengths += (lengths.empty() ? "" : ", ") + std::to_string (old.frames.size()) + " " + countsName (counts);
    }
    return usageError ("old list", "has " + std::to_string (length) + " frames at " + time::rateName (rate) + ", edition "
                                       + edition.letter + " has " + (lengths.empty() ? "no such frames" : lengths)
                                       + "; give the list of that very edition, or its rate");
}
} // namespace shutterbeat::desk
