#pragma once

#include "desk/OpenBook.h"
#include "spotting/Times.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// A list, file or sheet that can be made from a book.
struct Format
{
    std::string name;   ///< as typed: "csv"
    std::string ending; ///< of the file: ".csv"
    std::string what;   ///< one line for people
    std::string file;   ///< file name in a folder with everything: "hits.csv"
    bool inAll = true;  ///< made with everything; large sounds are not
};

/// Every format, in the order they are offered.
const std::vector<Format>& exportFormats();

/// The hit list as CSV text.
std::string hitListText (const spotting::BookTimes& times);

/// How lists are made.
struct ExportWish
{
    spotting::Asked asked;
    std::string stamped;               ///< date printed on everything (2026-05-01); empty: none is printed
    bool letter = false;               ///< sheets on Letter paper, else A4
    std::vector<std::string> columns;  ///< of csv and cues-csv, in order; empty: all
    char separator = ',';              ///< of tables: comma, semicolon or tab
    char decimalSign = '.';            ///< of tables: point or comma
    bool byteOrderMark = true;         ///< of tables
    std::vector<std::string> only;     ///< of exportAll: the formats wanted, by name; empty: all that Format::inAll says
    std::vector<std::string> chapters; ///< ids of hits and cues that begin a chapter besides every cue of music
};

/// What was written and what the user should know.
struct Exported
{
    std::vector<std::string> files;
    std::vector<std::string> notes;
};

/// Writes one format to `path`, whole or not at all. Error: unknown format, cannotWrite, a format that needs what
/// this rate does not have (timecode), a film that can't be read for its pictures.
Result<Exported> exportBook (const OpenBook& open, const std::string& format, const std::string& path, const ExportWish& wish,
                             const Progress& progress = {});

/// Writes every format into a folder, made when missing; every picture is fetched once, in film order. A format that this rate
/// can't have is left out with a note.
Result<Exported> exportAll (const OpenBook& open, const std::string& folder, const ExportWish& wish, const Progress& progress = {});
} // namespace shutterbeat::desk
