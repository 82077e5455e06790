#pragma once

#include "spotting/Book.h"

#include <cstdint>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// What somebody decided of one pending match.
struct Decision
{
    std::string match; ///< id
    Answer answer = Answer::same;
    std::int64_t moved = 0; ///< film frames that the old run begins later than proposed; only with same
};

/// Settles pending matches. "same" takes the pictures of both runs for the same (moved as said), or one card for the other's
/// successor: its shot then has the old one's id, name and kind, and places pinned to it go with it. "other" parts them.
/// Error: no such match, one that is settled already, a run moved out of its print; then nothing is changed.
Result<Book> settle (const Book& book, const std::vector<Decision>& decisions);

/// Matches that wait for a decision, in book order.
std::vector<PendingMatch> pendingMatches (const Book& book);
} // namespace shutterbeat::spotting
