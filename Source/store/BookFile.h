#pragma once

#include "spotting/Book.h"

#include <string>
#include <vector>

namespace shutterbeat::store
{
/// The schema that this version writes. Older ones are read; a newer one is refused, untouched.
inline constexpr int schemaVersion = 1;

/// The book as JSON text, UTF-8, two blanks of indent, members in a fixed order: the same book is the same bytes.
std::string bookText (const spotting::Book& book);

/// Reads bookText back; members this version does not know are kept in Unknown. `where` names the file in errors.
/// Error (unreadable): not JSON (with line and column), not a book, a newer schema, a member of the wrong kind (named by
/// its path, such as hits[3].place), an id used twice.
Result<spotting::Book> parseBook (std::string_view text, const std::string& where);

/// A book read from disk, and the stamp that tells later whether somebody else has written it meanwhile.
struct Loaded
{
    spotting::Book book;
    std::string stamp;
};

/// Error: missing, a folder, empty, or as parseBook.
Result<Loaded> loadBook (const std::string& path);

/// Writes whole or not at all: a temporary file beside it, flushed to disk, then renamed over the old one.
/// `stamp` is what loadBook gave, or empty for a new file, which must not exist yet. Gives the new stamp.
/// Error: conflict when the file on disk is no longer the one that was loaded; cannotWrite (full disk, no permission);
/// the book on disk is untouched in either case.
Result<std::string> saveBook (const std::string& path, const spotting::Book& book, const std::string& stamp);
} // namespace shutterbeat::store
