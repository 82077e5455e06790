#include "desk/Proxy.h"

#include "desk/FilmPath.h"
#include "media/CanvasFilm.h"
#include "media/MovieWriter.h"
#include "time/Timecode.h"

#include <algorithm>
#include <filesystem>
#include <set>

namespace shutterbeat::desk
{
namespace fs = std::filesystem;

namespace
{
/// The film's own label where a track at its own rate can hold it.
std::string labelFor (const media::FilmInfo& info)
{
    const bool fits =
        ! info.startLabel.empty() && info.startRate.perSecond == info.rate && time::parseLabel (info.startLabel, info.startRate);
    return fits ? info.startLabel : "";
}

Result<WorkingCopy> makeOne (const std::string& film, const std::string& copy, int widest, std::vector<std::string>& notes,
                             const Progress& progress)
{
    auto opened = media::CanvasFilm::open (film);
    if (! opened)
        return opened.error();
    auto& source = **opened;
    const auto& info = source.info();
    const auto even = [] (double size) { return std::max (16, 2 * static_cast<int> (size / 2 + 0.5)); };
    WorkingCopy made;
    made.path = copy;
    made.width = even (std::min (widest, info.width));
    made.height = even (static_cast<double> (info.height) * made.width / std::max (1, info.width));
    made.frames = info.frames;

    media::MovieSpec spec;
    spec.width = made.width;
    spec.height = made.height;
    spec.rate = info.rate;
    spec.sound = false;
    spec.crf = 23;
    spec.preset = "veryfast";
    // Every picture is a few pictures from a key: stepping back and jumping are cheap.
    spec.keyEvery = 8;
    spec.between = 0;
    spec.startLabel = labelFor (info);
    auto writer = media::MovieWriter::open (copy, spec);
    if (! writer)
        return writer.error();
    media::Canvas canvas (made.width, made.height, spec.codec);
    std::int64_t damaged = 0;
    for (std::int64_t k = 0; k < info.frames; ++k)
    {
        if (progress && ! progress (static_cast<double> (k) / static_cast<double> (info.frames), "making a working copy"))
            return Error{ ErrorCode::cancelled, copy, "making it was stopped; nothing of it was kept" };
        const auto whole = source.paint (k, canvas, { 0, 0, made.width, made.height });
        if (! whole)
            return whole.error();
        damaged += *whole ? 0 : 1;
        if (const auto added = (*writer)->add (canvas); ! added)
            return added.error();
    }
    if (const auto finished = (*writer)->finish(); ! finished)
        return finished.error();
    if (damaged > 0)
        notes.push_back (film + ": " + std::to_string (damaged)
                         + " frame(s) could not be decoded whole; the copy shows what there is");
    return made;
}

/// Every file a book names, so that none is written over.
std::set<std::string> filmsOf (const OpenBook& open)
{
    std::set<std::string> films;
    for (const auto& print : open.book.prints)
        for (const auto& reel : print.reels)
        {
            std::error_code ignored;
            films.insert (fs::weakly_canonical (filmPath (open, reel), ignored).string());
        }
    return films;
}

Result<Done> nameInBook (OpenBook& open, const WorkingCopy& copy)
{
    const auto made = media::openFilm (copy.path);
    if (! made)
        return made.error();
    auto prints = open.book.prints.list();
    for (auto& print : prints)
        if (print.id == copy.print)
        {
            auto& reel = print.reels[copy.reel];
            if (made->frames != reel.cadence.fileFrames())
                return unreadable (copy.path, "it has " + std::to_string (made->frames)
                                                  + " frames, but the book was made from a file of "
                                                  + std::to_string (reel.cadence.fileFrames())
                                                  + "; the film has changed since, so relink or scan it anew");
            reel.workingCopy = pathForBook (open.path, copy.path);
            reel.workingIdentity = made->identity;
        }
    open.book.prints = std::move (prints);
    return saveBook (open);
}
} // namespace

Result<MadeWorkingCopies> makeWorkingCopies (OpenBook& open, const WorkingCopyWish& wish, const Progress& progress)
{
    if (wish.width < 64 || wish.width > 4096)
        return usageError ("width " + std::to_string (wish.width), "can't be had; choose 64 to 4096 pixels");
    std::error_code failed;
    const fs::path book (open.path);
    const fs::path folder = wish.folder.empty() ? book.parent_path() / (book.stem().string() + "-working") : fs::path (wish.folder);
    MadeWorkingCopies result;
    const auto films = filmsOf (open);
    std::size_t reels = 0, done = 0;
    for (const auto& print : open.book.prints)
        reels += print.reels.size();
    std::set<std::string> names;
    const auto prints = open.book.prints.list();
    for (const auto& print : prints)
        for (std::size_t r = 0; r < print.reels.size(); ++r, ++done)
        {
            const auto& reel = print.reels[r];
            if (isToCome (reel))
                continue;
            const std::string film = filmPath (open, reel);
            const std::string stem = fs::path (film).stem().string();
            auto name = stem;
            for (int n = 2; ! names.insert (name).second; ++n)
                name = stem + "-" + std::to_string (n);
            const auto before = pathFromBook (open.path, reel.workingCopy);
            if (! wish.again && ! before.empty() && fs::is_regular_file (before, failed))
            {
                result.notes.push_back (before + " is there already; say --again to make it anew");
                continue;
            }
            const auto copy = (folder / (name + ".mp4")).string();
            if (films.contains (fs::weakly_canonical (copy, failed).string()))
                return usageError (copy, "is one of the book's own films; give another folder");
            fs::create_directories (folder, failed);
            if (failed)
                return cannotWrite (folder.string(), failed.message() + "; choose another folder");
            const auto part = [&] (double fraction, const std::string& what)
            {
                return ! progress
                       || progress (
                           (static_cast<double> (done) + fraction) / static_cast<double> (std::max<std::size_t> (1, reels)), what);
            };
            auto made = makeOne (film, copy, wish.width, result.notes, part);
            if (! made)
                return made.error();
            made->print = print.id;
            made->reel = r;
            if (const auto named = nameInBook (open, *made); ! named)
                return named.error();
            result.made.push_back (std::move (*made));
        }
    return result;
}
} // namespace shutterbeat::desk
