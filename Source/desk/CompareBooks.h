#pragma once

#include "spotting/Book.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// How two editions, or two states of a book, differ: a sentence each.
struct BookDifference
{
    std::vector<std::string> decisions; ///< hits and cues that are new, gone, moved, or said otherwise (wording, weight, ...)
    std::vector<std::string> cards;     ///< cards that are new, gone, say something else or stand longer or shorter
    std::vector<std::string> sources;   ///< shots that are remade, from another print, or have another reason
    std::vector<std::string> cues;      ///< what the film's changes do to each cue: how much longer, and where

    [[nodiscard]] bool none() const { return decisions.empty() && cards.empty() && sources.empty() && cues.empty(); }
};

/// Compares an edition of a book with an edition of the same or another state of it. What the film's changes do to the cues is told
/// where the later book has both editions. Error: an edition that the book does not have; as timesOf.
Result<BookDifference> compareBooks (const spotting::Book& before, const std::string& editionBefore, const spotting::Book& now,
                                     const std::string& editionNow);
} // namespace shutterbeat::desk
