#include "desk/OpenBook.h"

#include "desk/FilmPath.h"
#include "media/FilmFile.h"
#include "media/Identity.h"
#include "store/BookFile.h"

#include <filesystem>

namespace shutterbeat::desk
{
Result<OpenBook> openBook (const std::string& path)
{
    auto loaded = store::loadBook (path);
    if (! loaded)
        return loaded.error();
    return OpenBook{ std::move (loaded->book), path, std::move (loaded->stamp) };
}

Result<Done> saveBook (OpenBook& open)
{
    auto stamp = store::saveBook (open.path, open.book, open.stamp);
    if (! stamp)
        return stamp.error();
    open.stamp = std::move (*stamp);
    return Done{};
}

std::string filmPath (const OpenBook& open, const film::ReelFile& reel)
{
    return pathFromBook (open.path, reel.path);
}

namespace
{
bool isThere (const std::string& path)
{
    std::error_code failed;
    return std::filesystem::exists (path, failed);
}
} // namespace

std::string filmPathForPlaying (const OpenBook& open, const film::ReelFile& reel)
{
    const auto copy = pathFromBook (open.path, reel.workingCopy);
    return ! copy.empty() && isThere (copy) ? copy : filmPath (open, reel);
}

std::string filmPathForPictures (const OpenBook& open, const film::ReelFile& reel)
{
    const auto film = filmPath (open, reel);
    return isThere (film) ? film : filmPathForPlaying (open, reel);
}

std::vector<MissingFilm> missingWorkingCopies (const OpenBook& open)
{
    std::vector<MissingFilm> missing;
    for (const auto& print : open.book.prints)
        for (std::size_t r = 0; r < print.reels.size(); ++r)
            if (const auto path = pathFromBook (open.path, print.reels[r].workingCopy); ! path.empty())
                if (const auto identity = media::fileIdentity (path); ! identity)
                    missing.push_back ({ print.id, r, path, identity.error().message, true });
    return missing;
}

namespace
{
std::string whyMissing (const std::string& path, const Error& error)
{
    std::error_code failed;
    return std::filesystem::exists (path, failed) ? error.message : "the file is not there";
}
} // namespace

std::vector<MissingFilm> missingFilms (const OpenBook& open)
{
    std::vector<MissingFilm> missing;
    for (const auto& print : open.book.prints)
        for (std::size_t r = 0; r < print.reels.size(); ++r)
        {
            if (isToCome (print.reels[r]))
                continue;
            const std::string path = filmPath (open, print.reels[r]);
            const auto identity = media::fileIdentity (path);
            if (! identity)
                missing.push_back ({ print.id, r, path, whyMissing (path, identity.error()), false });
            else if (! print.reels[r].identity.empty() && *identity != print.reels[r].identity)
                missing.push_back ({ print.id, r, path, "it is not the file the book was made from; it has changed since", false });
        }
    return missing;
}

Result<spotting::Book> relink (const OpenBook& open, const MissingFilm& missing, const std::string& newPath)
{
    const auto film = media::openFilm (newPath);
    if (! film)
        return film.error();
    auto prints = open.book.prints.list();
    for (auto& print : prints)
        if (print.id == missing.print && missing.reel < print.reels.size())
        {
            auto& reel = print.reels[missing.reel];
            if (film->frames != reel.cadence.fileFrames())
                return unreadable (newPath,
                                   "it has " + std::to_string (film->frames) + " frames, but the book was made from a file of "
                                       + std::to_string (reel.cadence.fileFrames()) + "; this is another film or another cut");
            (missing.workingCopy ? reel.workingCopy : reel.path) = pathForBook (open.path, newPath);
            (missing.workingCopy ? reel.workingIdentity : reel.identity) = film->identity;
            spotting::Book changed = open.book;
            changed.prints = std::move (prints);
            return changed;
        }
    return usageError (newPath, "the book has no such print or reel to find it for");
}
} // namespace shutterbeat::desk
