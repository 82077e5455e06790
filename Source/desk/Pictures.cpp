#include "desk/Pictures.h"

#include "desk/FilmPath.h"

#include <algorithm>
#include <set>

namespace shutterbeat::desk
{
namespace
{
/// The largest size of that shape inside width x height; the shape itself when no size is asked.
std::pair<int, int> fitted (int pictureWidth, int pictureHeight, int width, int height)
{
    if (width <= 0 || height <= 0 || pictureWidth <= 0 || pictureHeight <= 0)
        return { 0, 0 };
    const double scale = std::min (static_cast<double> (width) / pictureWidth, static_cast<double> (height) / pictureHeight);
    return { std::max (1, static_cast<int> (pictureWidth * scale + 0.5)),
             std::max (1, static_cast<int> (pictureHeight * scale + 0.5)) };
}
} // namespace

Result<Pictures::Where> Pictures::whereIs (const film::Print& print, std::int64_t filmFrame) const
{
    const auto in = film::reelFrameOf (print, filmFrame);
    if (! in)
        return in.error();
    if (! isToCome (print.reels[in->reel]))
        return Where{ filmPathForPictures (book, print.reels[in->reel]), in->fileFrame };
    // Another print may show the same picture.
    for (const auto& same : film::sameElsewhere (book.book.samePictures.list(), { print.id, filmFrame }))
        for (const auto& other : book.book.prints)
            if (const auto there = film::reelFrameOf (other, same.frame);
                other.id == same.print && there && ! isToCome (other.reels[there->reel]))
                return Where{ filmPathForPictures (book, other.reels[there->reel]), there->fileFrame };
    return unreadable ("print " + print.name, "its pictures are not there yet: only a list has named them");
}

Result<media::FrameReader*> Pictures::readerOf (const std::string& path)
{
    auto& reader = readers[path];
    if (! reader)
    {
        auto opened = media::FrameReader::open (path, keepBytes);
        if (! opened)
            return opened.error();
        reader = std::move (*opened);
    }
    return reader.get();
}

Result<Done> Pictures::onlyThese (const std::vector<std::pair<const film::Print*, std::int64_t>>& frames)
{
    std::map<std::string, std::set<std::int64_t>> byFile;
    for (const auto& [print, frame] : frames)
        if (const auto where = whereIs (*print, frame))
            byFile[where->path].insert (where->fileFrame);
    for (auto& [path, ofFile] : byFile)
    {
        const auto reader = readerOf (path);
        if (! reader)
            return reader.error();
        (*reader)->onlyThese (std::move (ofFile));
    }
    return Done{};
}

Result<media::Picture> Pictures::sourceFrame (const film::Print& print, std::int64_t filmFrame, int width, int height)
{
    const auto where = whereIs (print, filmFrame);
    if (! where)
        return where.error();
    const auto reader = readerOf (where->path);
    if (! reader)
        return reader.error();
    const auto& info = (*reader)->info();
    const auto size = fitted (info.width, info.height, width, height);
    return (*reader)->frame (where->fileFrame, size.first, size.second);
}

Result<media::Picture> Pictures::at (const film::Timings& timings, const film::Position& position, int width, int height)
{
    if (position.where != film::Position::Where::picture)
        return usageError ("picture", "there is none at a made card or outside the picture");
    const auto& shot = timings.edition().shots[position.shot];
    const auto* print = timings.print (shot.print);
    if (print == nullptr)
        return usageError ("print " + shot.print, "the book does not have it");
    return sourceFrame (*print, shot.first + position.frameInShot, width, height);
}
} // namespace shutterbeat::desk
