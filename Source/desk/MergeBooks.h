#pragma once

#include "desk/OpenBook.h"
#include "spotting/Merge.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// Two copies of a book merged, ready to be saved.
struct MergedBooks
{
    OpenBook open; ///< the merged book at its own path; its stamp is that of `mine` when it is to replace it, else empty
    spotting::Merged merged;
};

/// Reads a book as it was sent, and what both made of it, and merges them (spotting::mergeBooks). Paths of films and sounds are
/// made to fit `output`; what only theirs has is looked for where it lies beside theirs.
/// Error: unreadable; as mergeBooks.
Result<MergedBooks> mergeBookFiles (const std::string& base, const std::string& mine, const std::string& theirs,
                                    const std::string& output, const std::vector<spotting::MergeChoice>& choices);
} // namespace shutterbeat::desk
