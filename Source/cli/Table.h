#pragma once

#include <ostream>
#include <string>
#include <vector>

namespace shutterbeat::cli
{
struct Column
{
    std::string head;
    bool right = false;
};

/// Columns as wide as they have to be, two blanks apart; every row has a cell a column.
void printTable (const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& rows, std::ostream& out);

/// A label on one line, so that a card's wording can't break the table.
std::string oneLine (std::string text);
} // namespace shutterbeat::cli
