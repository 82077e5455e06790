#include "desk/ExportPictures.h"

#include "desk/FilmPath.h"

namespace shutterbeat::desk
{
namespace
{
/// The largest a sheet prints is 74 points wide: about 200 pixels to the inch.
constexpr int pictureWidth = 208, pictureHeight = 156;
} // namespace

std::optional<ExportPictures::Key> ExportPictures::keyOf (const film::Timings& timings, const film::Position& position)
{
    if (position.where != film::Position::Where::picture)
        return {};
    const auto& shot = timings.edition().shots[position.shot];
    return Key{ shot.print, shot.first + position.frameInShot };
}

Result<Done> ExportPictures::fetch (const spotting::BookTimes& times, PicturesOf which, const Progress& progress)
{
    if (which == PicturesOf::none)
        return Done{};
    const auto& timings = times.timings;
    // By print and source frame, which is the order of its files: each is decoded once from front to back.
    std::set<Key> wanted;
    const auto want = [&] (const film::Position& position)
    {
        if (const auto key = keyOf (timings, position); key && ! pictures.contains (*key))
            wanted.insert (*key);
    };
    if (which != PicturesOf::cards && which != PicturesOf::recut)
        for (const auto& row : times.hits)
            if (row.at && row.at->sourceFrame)
                if (const auto position = timings.find (row.hit.place))
                    want (*position);
    if (which != PicturesOf::hits)
        for (std::size_t i = 0; i < timings.edition().shots.size(); ++i)
            if (which == PicturesOf::hitsAndCuts || which == PicturesOf::recut
                || timings.edition().shots[i].kind == film::ShotKind::card)
                want (timings.shotHead (i));
    std::size_t count = 0;
    for (const auto& key : wanted)
    {
        if (progress
            && ! progress (static_cast<double> (++count) / static_cast<double> (wanted.size() + 1), "pictures for the sheets"))
            return Error{ ErrorCode::cancelled, "sheets", "stopped; nothing was written" };
        const auto* print = timings.print (key.first);
        if (print == nullptr)
            continue;
        auto picture = films.sourceFrame (*print, key.second, pictureWidth, pictureHeight);
        if (! picture)
        {
            const auto in = film::reelFrameOf (*print, key.second);
            if (in && isToCome (print->reels[in->reel]))
            {
                toCome.insert ("print " + print->name + " has no pictures yet: where they belong, sheets have none");
                continue;
            }
            // A sheet with holes where its pictures belong would pass for whole.
            auto error = picture.error();
            if (error.code == ErrorCode::unreadable)
                error.message += "; if the film has moved, tell the book with: shutterbeat relink " + book.path + " FILE";
            return error;
        }
        pictures[key] = std::make_shared<const sheets::SheetPicture> (
            sheets::SheetPicture{ picture->width, picture->height, false, std::move (picture->rgb) });
    }
    return Done{};
}

std::shared_ptr<const sheets::SheetPicture> ExportPictures::at (const film::Timings& timings, const film::Position& position) const
{
    const auto key = keyOf (timings, position);
    if (! key)
        return nullptr;
    const auto found = pictures.find (*key);
    return found == pictures.end() ? nullptr : found->second;
}
} // namespace shutterbeat::desk
