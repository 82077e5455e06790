#pragma once

#include "exchange/CsvTable.h"
#include "time/Reach.h"
#include "time/Text.h"

#include <algorithm>
#include <functional>
#include <limits>
#include <string>
#include <utility>
#include <vector>

namespace shutterbeat::exchange::csv
{
/// Puts one cell into a row of a list; answers what is wrong with it, or nothing.
template <class Row>
using Put = std::function<std::string (Row&, const std::string& cell, const CsvLook&)>;

/// A column that means something here.
template <class Row>
struct Reader
{
    const char* name;
    Put<Row> put;
    bool number = false; ///< a cell that shows which decimal sign the table uses
};

template <class Row>
Put<Row> text (std::string Row::*member)
{
    return [member] (Row& row, const std::string& cell, const CsvLook&)
    {
        row.*member = readText (cell);
        return std::string();
    };
}

template <class Row>
Put<Row> whole (std::optional<std::int64_t> Row::*member)
{
    return [member] (Row& row, const std::string& cell, const CsvLook&) -> std::string
    {
        if (time::trimmed (cell).empty())
            return "";
        row.*member = time::parseWhole (time::trimmed (cell));
        return row.*member ? "" : "is not a whole number";
    };
}

/// Into a number of seconds that somebody gave.
template <class Row>
Put<Row> amount (time::Rational Row::*member)
{
    return [member] (Row& row, const std::string& cell, const CsvLook& look) -> std::string
    {
        if (time::trimmed (cell).empty())
            return "";
        const auto value = readNumber (cell, look);
        if (! value)
            return "is not a number of seconds";
        if (! time::withinReach (*value))
            return "is too large a number of seconds, or too fine";
        row.*member = *value;
        return "";
    };
}

/// Into a number or an optional one.
template <class Row, class Number>
Put<Row> number (Number Row::*member, const char* wrong = "is not a number of seconds")
{
    return [member, wrong] (Row& row, const std::string& cell, const CsvLook& look) -> std::string
    {
        if (time::trimmed (cell).empty())
            return "";
        const auto value = readNumber (cell, look);
        if (! value)
            return wrong;
        row.*member = *value;
        return "";
    };
}

template <class Row>
Put<Row> milliseconds (int Row::*member)
{
    return [member] (Row& row, const std::string& cell, const CsvLook&) -> std::string
    {
        if (time::trimmed (cell).empty())
            return "";
        const auto value = time::parseWhole (time::trimmed (cell));
        if (! value || *value < 0 || *value > std::numeric_limits<int>::max())
            return "is not a whole number of milliseconds, zero or above";
        row.*member = static_cast<int> (*value);
        return "";
    };
}

template <class Row>
Put<Row> yesNo (bool Row::*member)
{
    return [member] (Row& row, const std::string& cell, const CsvLook&) -> std::string
    {
        const auto word = time::lowerAscii (time::trimmed (cell));
        row.*member = word == "yes";
        return word == "yes" || word == "no" || word.empty() ? "" : "is neither yes nor no";
    };
}

template <class Row, class Enum>
Put<Row> word (Enum Row::*member, Result<Enum> (*parse) (std::string_view))
{
    return [member, parse] (Row& row, const std::string& cell, const CsvLook&) -> std::string
    {
        if (time::trimmed (cell).empty())
            return "";
        const auto value = parse (time::lowerAscii (time::trimmed (cell)));
        if (! value)
            return value.error().message;
        row.*member = *value;
        return "";
    };
}

/// The sign that the number columns really use; the guess stays where none of them has one. A table that uses both is
/// read with the more frequent one, and the other lines are bad.
template <class Row>
char sniffDecimalSign (const CsvTable& table, const std::vector<Reader<Row>>& readers)
{
    std::int64_t points = 0, commas = 0;
    for (const auto& reader : readers)
        if (const auto column = table.column (reader.name); reader.number && column)
            for (const auto& record : table.records)
            {
                points += record.cells[*column].find ('.') != std::string::npos ? 1 : 0;
                commas += record.cells[*column].find (',') != std::string::npos ? 1 : 0;
            }
    return points == commas ? table.look.decimalSign : points > commas ? '.' : ',';
}

/// Rows of a table, and what could not be read.
template <class Row>
struct Rows
{
    std::vector<Row> rows;
    std::vector<BadLine> bad;
    std::vector<std::string> notUsed; ///< names of columns that mean nothing here
    std::vector<std::string> columns; ///< those that do
};

template <class Row>
Rows<Row> rowsOf (CsvTable& table, const std::vector<Reader<Row>>& readers)
{
    Rows<Row> found;
    table.look.decimalSign = sniffDecimalSign (table, readers);
    found.bad = table.bad;
    std::vector<std::pair<const Reader<Row>*, std::size_t>> known;
    for (const auto& reader : readers)
        if (const auto column = table.column (reader.name))
        {
            known.emplace_back (&reader, *column);
            found.columns.emplace_back (reader.name);
        }
    for (std::size_t i = 0; i < table.columns.size(); ++i)
        if (std::none_of (known.begin(), known.end(), [i] (const auto& k) { return k.second == i; }))
            found.notUsed.push_back (table.columns[i]);
    for (const auto& record : table.records)
    {
        Row row;
        row.line = record.line;
        std::string why;
        for (const auto& [reader, column] : known)
            if (const auto wrong = reader->put (row, record.cells[column], table.look); ! wrong.empty() && why.empty())
                why = std::string (reader->name) + " \"" + record.cells[column] + "\" " + wrong;
        if (why.empty())
            found.rows.push_back (std::move (row));
        else
            found.bad.push_back ({ record.line, why });
    }
    std::stable_sort (found.bad.begin(), found.bad.end(), [] (const BadLine& a, const BadLine& b) { return a.line < b.line; });
    return found;
}
} // namespace shutterbeat::exchange::csv
