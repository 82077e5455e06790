#pragma once

#include "desk/OpenBook.h"
#include "exchange/CsvTable.h"
#include "spotting/Book.h"
#include "spotting/Merge.h"

#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::desk
{
/// A kind of file that can be read into a book.
struct ImportFormat
{
    std::string name; ///< as typed: "csv"
    std::string what; ///< one line for people
};

/// Every one, in the order they are offered.
const std::vector<ImportFormat>& importFormats();

/// How a file is to be understood.
struct ImportWish
{
    std::string person = "me"; ///< whose hits and cues the new ones are
    /// Rate and fill that the places of the file were made at, where it does not say itself; none: the book's.
    spotting::Asked asked;
    std::size_t reel = 0; ///< of the edition, for files that hold one reel and don't say which
};

/// What an import does to one hit, cue or card.
struct ImportChange
{
    enum class Kind
    {
        added,
        changed,
        merged, ///< two at one place become one with both names
        same    ///< as the book has it already
    };
    Kind kind = Kind::same;
    std::int64_t line = 0; ///< of the file, from 1; 0 where it has no lines
    std::string what;      ///< one sentence
};

/// What an import would do: the book afterwards (one edit, so one step to undo), and what the user should know.
struct ImportPlan
{
    spotting::Book book; ///< the very book when nothing changes
    std::vector<ImportChange> changes;
    std::vector<exchange::BadLine> bad;             ///< lines that were left out, and why
    std::vector<spotting::MergeConflict> conflicts; ///< of a reply: both said something else; mine holds
    std::vector<std::string> notes;

    /// Things of that kind.
    [[nodiscard]] std::size_t count (ImportChange::Kind kind) const;
};

/// Works out what a file would change. Nothing of the book is ever overwritten without being listed, nothing removed: hits and
/// cues with the id of one in the book change what the file says of them; a new hit at the place of another joins it with both
/// names; all others are new. Error: unknown format, a file that can't be read as it, a book without times.
Result<ImportPlan> planImport (const OpenBook& open, const std::string& format, std::string_view bytes, const ImportWish& wish);
/// The same of a file; errors name it.
Result<ImportPlan> planImportFile (const OpenBook& open, const std::string& format, const std::string& path,
                                   const ImportWish& wish);
} // namespace shutterbeat::desk
