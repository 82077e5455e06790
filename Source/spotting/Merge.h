#pragma once

#include "spotting/Book.h"

#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// Something that both copies did and that only a person can settle. The merged book holds what `taken` says; the other value
/// is only here and in its own copy.
struct MergeConflict
{
    std::string key;                ///< how a choice names it: "anna-3.label"; of a thing that one side took away: "anna-3"
    std::string what;               ///< for people: hit anna-3 "The kite"
    std::string field;              ///< for people: "label", "removed"
    std::string base, mine, theirs; ///< as text; "(none)" where it is not there
    bool tookTheirs = false;        ///< the merged book holds theirs, else mine

    friend bool operator== (const MergeConflict&, const MergeConflict&) = default;
};

/// How one conflict is to be settled.
struct MergeChoice
{
    std::string key; ///< as of MergeConflict
    bool theirs = false;
};

struct Merged
{
    Book book;
    std::vector<MergeConflict> conflicts; ///< those that no choice settled
    std::vector<std::string> settled;     ///< a sentence for each that one did
    std::vector<std::string> brought;     ///< a sentence for every change that came from theirs
    std::vector<std::string> notes;       ///< ids and letters that had to be given anew
};

/// Merges two copies of a book that were both changed since `base`: everything that one side added, changed or took away is in
/// the merged book. Where both changed the same field to different values, or one changed what the other took away, that is
/// a conflict: mine holds for a field, what was changed for what was taken away, unless a choice says otherwise. What both
/// gave the same id or letter is kept twice, theirs under a new one. Paths of files are mine: theirs are of another machine.
/// Error: a choice that names no conflict (the message lists them).
Result<Merged> mergeBooks (const Book& base, const Book& mine, const Book& theirs, const std::vector<MergeChoice>& choices = {});
} // namespace shutterbeat::spotting
