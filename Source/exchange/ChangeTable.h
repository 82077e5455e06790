#pragma once

#include "exchange/CsvTable.h"
#include "spotting/RecutRows.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::exchange
{
/// A change list as a table: every shot of both editions, a row each, in film frames over all reels. The last column says which
/// pictures are the same ("60..119=48..107", several with semicolons), so that reading it back gives the same edition.
std::string changeTable (const std::vector<spotting::RecutRow>& rows);

/// A row of a change list as read.
struct ListedChange
{
    std::int64_t line = 1;
    std::string shot;                               ///< its name; may be empty
    std::optional<std::int64_t> oldFirst, newFirst; ///< none: not in that edition
    std::int64_t oldFrames = 0, newFrames = 0;
    film::ShotKind kind = film::ShotKind::shot;
    std::optional<time::Rational> made; ///< seconds of a made one
    bool remade = false;                ///< the old one's successor with other pictures
    std::vector<spotting::SamePart> same;
};

struct ChangeTable
{
    std::vector<ListedChange> rows; ///< in the table's order
    std::vector<BadLine> bad;
};

/// Reads a change list: what changeTable writes, or a table with the columns old first, old frames, new first, new frames and,
/// where lengths differ, what ("head -12", "tail +3", "remade") or same pictures. Numbers may be left empty where an edition does
/// not have the shot. Bad lines are named. Error: no table, a column that is missing.
Result<ChangeTable> readChangeTable (std::string_view bytes);
} // namespace shutterbeat::exchange
