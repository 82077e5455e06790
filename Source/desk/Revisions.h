#pragma once

#include "desk/OpenBook.h"
#include "spotting/Revision.h"
#include "spotting/Times.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// The named revisions of a book, oldest first. Error (unreadable): damaged.
Result<std::vector<spotting::Revision>> revisionsIn (const OpenBook& open);

/// The book with its present state named. Error (usage): no name, a name that is taken.
Result<spotting::Book> withRevision (const OpenBook& open, const std::string& name, const std::string& stamped);

/// Which revision lists made of the book now are of: "after the session" when nothing was changed since it was named, "after the
/// session, changed since", or "" when none was ever named.
std::string revisionText (const spotting::Book& book);

/// What changed from one revision to another, or to the book as it is now where `to` is empty, a sentence each.
/// Error (usage): a name there is not; else as timesOf.
Result<std::vector<std::string>> changesOfRevisions (const OpenBook& open, const std::string& from, const std::string& to);
} // namespace shutterbeat::desk
