#pragma once

#include "desk/Import.h"
#include "spotting/Times.h"

#include <optional>
#include <set>

namespace shutterbeat::desk
{
/// A hit as a file has it, its place found in the book's edition.
struct IncomingHit
{
    std::int64_t line = 0;
    spotting::HitPoint hit;              ///< its id, when not empty, may be one of the book
    std::set<std::string> given;         ///< names of columns that the file really has for it
    std::optional<film::Position> where; ///< none: lost in this edition
};

/// The text in quotation marks, for what is told of a change.
std::string inQuotes (const std::string& text);

/// Lays hits over those of the book, as planImport says.
Result<Done> mergeHits (ImportPlan& plan, const film::Timings& timings, std::vector<IncomingHit> incoming,
                        const std::string& person);

/// The place of a delivered frame of a reel, outside the picture too. Error: more than a day outside.
Result<film::Place> placeOfDelivered (const film::Timings& timings, std::size_t reel, std::int64_t delivered);

/// The edge where a cut or card hit on the first frame of a shot belongs (rule 1 of exactness); else the place as it is.
film::Place edgeWhereUsual (const film::Timings& timings, const film::Place& place, spotting::HitKind kind);

/// "Ladder falls (anna-15)".
std::string hitName (const spotting::HitPoint& hit);
} // namespace shutterbeat::desk
