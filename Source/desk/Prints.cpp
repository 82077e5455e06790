#include "desk/Prints.h"

#include "desk/FilmPath.h"
#include "spotting/ShotEdit.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::desk
{
namespace
{
/// The shots of every reel in source film frames of the print, in its own cadence.
std::vector<film::ScannedShot> scannedShots (const std::vector<ScannedFilm>& reels, const film::Print& print)
{
    std::vector<film::ScannedShot> shots;
    std::int64_t before = 0;
    for (std::size_t i = 0; i < reels.size(); ++i)
    {
        const film::Cadence& cadence = print.reels[i].cadence;
        const auto filmFrame = [&] (std::int64_t file)
        { return before + (file >= cadence.fileFrames() ? cadence.filmFrames() : cadence.filmFrameAt (file)); };
        for (const auto& found : reels[i].scan.shots)
            if (const auto first = filmFrame (found.firstFile), end = filmFrame (found.endFile); end > first)
                shots.push_back ({ first, end, found.kind, found.strength });
        before += cadence.filmFrames();
    }
    return shots;
}
} // namespace

Result<ScannedPrint> scanPrint (const std::string& bookPath, const std::vector<std::string>& files, const time::Gauge& gauge,
                                const Progress& progress, std::optional<double> threshold)
{
    if (files.empty())
        return usageError (bookPath, "name at least one film file");
    ScannedPrint made;
    made.print.name = std::filesystem::path (files.front()).stem().string();
    made.print.gauge = gauge;
    for (std::size_t i = 0; i < files.size(); ++i)
    {
        const auto part = [&] (double fraction, const std::string& what)
        { return ! progress || progress ((static_cast<double> (i) + fraction) / static_cast<double> (files.size()), what); };
        auto scanned = scanFilm (files[i], part, threshold);
        if (! scanned)
            return scanned.error();
        const std::string name = std::filesystem::path (files[i]).filename().string();
        for (const auto& warning : scanned->film.warnings)
            made.notes.push_back (name + ": " + warning);
        made.notes.push_back (name + ": " + scanned->scan.cadenceSaid);
        for (const auto& note : scanned->scan.notes)
            made.notes.push_back (name + ": " + note);
        film::ReelFile reel;
        reel.path = pathForBook (bookPath, files[i]);
        reel.identity = scanned->film.identity;
        reel.rate = scanned->film.rate;
        reel.startLabel = scanned->film.startLabel;
        reel.width = scanned->film.width;
        reel.height = scanned->film.height;
        reel.cadence = scanned->scan.cadence;
        reel.cadenceSaid = scanned->scan.cadenceSaid;
        made.print.reels.push_back (std::move (reel));
        made.reels.push_back (std::move (*scanned));
    }
    made.print.scanned = scannedShots (made.reels, made.print);
    return made;
}

std::string freePrintId (const spotting::Book& book)
{
    // Ids are never given twice: one above the highest number so far.
    std::size_t number = book.prints.size();
    std::string id;
    do
        id = "print-" + std::to_string (++number);
    while (std::any_of (book.prints.begin(), book.prints.end(), [&] (const film::Print& p) { return p.id == id; }));
    return id;
}

std::string freePrintName (const spotting::Book& book, const std::string& wanted)
{
    std::string name = wanted;
    for (int n = 2; std::any_of (book.prints.begin(), book.prints.end(), [&] (const film::Print& p) { return p.name == name; });
         ++n)
        name = wanted + " " + std::to_string (n);
    return name;
}

Result<ChangedPrints> addPrint (const OpenBook& open, const std::string& name, const std::vector<std::string>& files,
                                const time::Gauge& gauge, const Progress& progress)
{
    if (name.empty())
        return usageError ("print", "needs a name");
    for (const auto& print : open.book.prints)
        if (print.name == name || print.id == name)
            return usageError ("print " + name, "the book has one of that name already; choose another name");
    auto scanned = scanPrint (open.path, files, gauge, progress);
    if (! scanned)
        return scanned.error();
    for (std::size_t i = 0; i < files.size(); ++i)
        for (const auto& print : open.book.prints)
            for (const auto& reel : print.reels)
                if (! reel.identity.empty() && reel.identity == scanned->print.reels[i].identity)
                    return usageError (files[i], "is a reel of print " + print.name + " already");
    auto prints = open.book.prints.list();
    auto print = std::move (scanned->print);
    print.name = name;
    print.id = freePrintId (open.book);
    ChangedPrints changed{ open.book, print.id, std::move (scanned->notes) };
    prints.push_back (std::move (print));
    changed.book.prints = std::move (prints);
    return changed;
}

Result<ChangedPrints> scanAgain (const OpenBook& open, const std::string& id, std::optional<double> threshold,
                                 const Progress& progress)
{
    const auto print = std::find_if (open.book.prints.begin(), open.book.prints.end(), [&] (const auto& p) { return p.id == id; });
    if (print == open.book.prints.end())
        return usageError ("print " + id, "the book does not have it");
    std::vector<std::string> files;
    for (const auto& reel : print->reels)
        files.push_back (filmPath (open, reel));
    auto scanned = scanPrint (open.path, files, print->gauge, progress, threshold);
    if (! scanned)
        return scanned.error();
    ChangedPrints changed{ open.book, id, std::move (scanned->notes) };
    for (std::size_t i = 0; i < files.size(); ++i)
    {
        const auto frames = scanned->reels[i].scan.fileFrames;
        const auto& cadence = print->reels[i].cadence;
        if (frames != cadence.fileFrames())
            return unreadable (files[i], "has " + std::to_string (frames) + " frames; the book was made from a file of "
                                             + std::to_string (cadence.fileFrames())
                                             + ". Relink the right one, or add this one as "
                                               "a print of its own");
        if (! (scanned->reels[i].scan.cadence == cadence))
            changed.notes.push_back (files[i] + ": the book's cadence (" + print->reels[i].cadenceSaid
                                     + ") is kept, so that film frames keep their numbers");
    }
    auto again = spotting::withNewScan (open.book, "scan", id, scannedShots (scanned->reels, *print));
    if (! again)
        return again.error();
    changed.book = std::move (again->book);
    changed.notes.push_back ("cuts: " + std::to_string (again->split) + " new, " + std::to_string (again->joined) + " gone, "
                             + std::to_string (again->moved) + " moved; " + std::to_string (again->retyped)
                             + " shots are of another kind now; locked shots were left as they are");
    return changed;
}

Result<std::string> printNamed (const spotting::Book& book, const std::string& idOrName)
{
    std::vector<std::string> ids;
    for (const auto& print : book.prints)
    {
        if (print.id == idOrName)
            return print.id;
        if (print.name == idOrName)
            ids.push_back (print.id);
    }
    if (ids.size() == 1)
        return ids.front();
    if (ids.size() > 1)
        return usageError ("print " + idOrName, "several are called so; say which by its id");
    std::string message = "the book does not have it; it has";
    for (const auto& print : book.prints)
        message += " " + print.id + " (" + print.name + ")";
    return usageError ("print " + idOrName, message);
}
} // namespace shutterbeat::desk
