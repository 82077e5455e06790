#pragma once

#include "desk/OpenBook.h"
#include "desk/ScanFilm.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// A print as its files were opened and scanned, its reels in order; its id is empty yet.
struct ScannedPrint
{
    film::Print print;
    std::vector<ScannedFilm> reels;
    std::vector<std::string> notes; ///< what was measured and what warned, a file each
};

/// Opens and scans the files of a print. Error: no files; as scanFilm.
Result<ScannedPrint> scanPrint (const std::string& bookPath, const std::vector<std::string>& files, const time::Gauge& gauge,
                                const Progress& progress = {}, std::optional<double> threshold = {});

/// A book after prints changed, and sentences for the user.
struct ChangedPrints
{
    spotting::Book book;
    std::string print; ///< id
    std::vector<std::string> notes;
};

/// An id that no print of the book has.
std::string freePrintId (const spotting::Book& book);
/// A name that no print of the book has: the wanted one, with a number behind it if need be.
std::string freePrintName (const spotting::Book& book, const std::string& wanted);

/// Adds another print of the film under a name; no edition uses it yet. Error: a name that is taken or empty, a film the
/// book has already; as scanPrint.
Result<ChangedPrints> addPrint (const OpenBook& open, const std::string& name, const std::vector<std::string>& files,
                                const time::Gauge& gauge, const Progress& progress = {});

/// Scans a print again and takes over what it finds, except on shots a person has locked. The film frames stay numbered as
/// they are: a cadence measured otherwise this time is said, not taken. Error: no such print; as scanPrint; files that
/// have another number of frames than when the book was made.
Result<ChangedPrints> scanAgain (const OpenBook& open, const std::string& print, std::optional<double> threshold,
                                 const Progress& progress = {});

/// A print by its id or name. Error: none, or several of that name.
Result<std::string> printNamed (const spotting::Book& book, const std::string& idOrName);
} // namespace shutterbeat::desk
