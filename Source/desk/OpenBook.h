#pragma once

#include "desk/Progress.h"
#include "spotting/Book.h"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// A book on the desk: the value, where it is kept, and what the user should know about it.
struct OpenBook
{
    spotting::Book book;
    std::string path;
    std::string stamp; ///< tells whether somebody else has written the file meanwhile
};

/// Error: as store::loadBook. Films are not opened; see missingFilms.
Result<OpenBook> openBook (const std::string& path);

/// Saves under open.path and renews open.stamp. Error: conflict, cannotWrite; open is unchanged then.
Result<Done> saveBook (OpenBook& open);

/// The file of a reel as it can be opened: paths in a book are relative to the book's folder where they can be.
std::string filmPath (const OpenBook& open, const film::ReelFile& reel);

/// The file of a reel for playing and for pictures: its working copy where there is one, else the film itself.
std::string filmPathForPlaying (const OpenBook& open, const film::ReelFile& reel);
/// The film itself where it is there, else its working copy.
std::string filmPathForPictures (const OpenBook& open, const film::ReelFile& reel);

/// A reel whose file is not where the book says, or is another file than the one that was scanned.
struct MissingFilm
{
    std::string print; ///< id
    std::size_t reel = 0;
    std::string path;
    std::string why;
    bool workingCopy = false; ///< its working copy is meant, not the film itself
};
std::vector<MissingFilm> missingFilms (const OpenBook& open);
/// The same for the working copies that the book names.
std::vector<MissingFilm> missingWorkingCopies (const OpenBook& open);

/// The book with the reel's file (or its working copy) found at another path. Error: that file is not the one the book
/// was made from (another length in frames), or can't be read.
Result<spotting::Book> relink (const OpenBook& open, const MissingFilm& missing, const std::string& newPath);

/// What `new` needs to know besides the files.
struct NewBook
{
    std::vector<std::string> files; ///< the reels of the first print, in order
    std::optional<time::Rational> running;
    std::optional<time::Rate> rate;
    std::optional<std::optional<time::Rational>> fill;
    std::optional<std::string> start; ///< start label; none: the first file's own, else 01:00:00:00
    std::string title;                ///< empty: the first file's name
    time::Gauge gauge;
    bool speedLater = false; ///< no running speed given and none measured: no error, see MadeBook::speedOpen
};

/// A book that was made, and sentences for the user (what was measured, what was assumed).
struct MadeBook
{
    OpenBook open;
    std::vector<std::string> notes;
    bool speedOpen = false; ///< the speed in the book is only a stand-in: ask, then set it with setRunningSpeed
};

/// Scans the files and makes edition A with their shots and cards. Writes nothing; saveBook does.
/// Error: unreadable files; no running speed given and no cadence measured (the message lists the usual speeds).
Result<MadeBook> newBook (const std::string& bookPath, const NewBook& wanted, const Progress& progress = {});
} // namespace shutterbeat::desk
