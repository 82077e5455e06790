#pragma once

#include "desk/OpenBook.h"

#include <cstdint>
#include <optional>
#include <string>

namespace shutterbeat::desk
{
/// Edits that were not saved when a program ended: a book as it was last kept in the state folder.
struct KeptEdits
{
    std::string file;         ///< where they lie
    spotting::Book book;      ///< its films' paths are relative to the book they belong to
    std::int64_t seconds = 0; ///< when they were kept, since 1970 (UTC)
};

/// Where this program keeps the edits of a book: in the state folder, under the book's whole path and the program's number, so
/// that two windows on one book do not write over each other's. Empty when there is no state folder.
std::string autosavePath (const std::string& bookPath);

/// Keeps them, whole or not at all. Error: cannotWrite; what was kept before is untouched.
Result<Done> autosave (const std::string& bookPath, const spotting::Book& book);

/// What this program kept of a book goes: it was saved, or somebody decided against it.
void dropAutosave (const std::string& bookPath);

/// The newest edits of a book that a program kept which runs no more, where they differ from the book as it is saved. Kept
/// ones that don't differ, or can't be read, are left where they are.
std::optional<KeptEdits> keptEdits (const OpenBook& open);

/// Moves kept edits to a book of their own beside the one they belong to; gives its path. Error: cannotWrite; they stay then.
Result<std::string> keptBeside (const KeptEdits& kept, const std::string& bookPath);
} // namespace shutterbeat::desk
