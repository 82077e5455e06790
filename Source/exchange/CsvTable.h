#pragma once

#include "time/Rational.h"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::exchange
{
/// How a table of text is laid out (RFC 4180, and what spreadsheets of other countries expect).
struct CsvLook
{
    bool byteOrderMark = true; ///< U+FEFF in front, so that spreadsheets read UTF-8
    char separator = ',';      ///< comma, semicolon or tab
    char decimalSign = '.';    ///< point or comma

    /// Semicolons and decimal commas.
    static CsvLook european() { return { true, ';', ',' }; }

    friend bool operator== (const CsvLook&, const CsvLook&) = default;
};

/// A cell of words. What a spreadsheet would take for a formula (a first character = + - @, tab or line break) gets an
/// apostrophe in front, and so does what begins with one, so that readText() gives every text back as it was.
std::string guardedText (std::string_view text);
/// The words of a cell: the apostrophe that guardedText() put there is taken off, any other kept.
std::string readText (std::string_view cell);

/// A number with the table's decimal sign: exact in at most nine decimals, else as a fraction "n/d".
std::string exactNumber (const time::Rational& number, const CsvLook& look);
/// A number rounded to so many decimals.
std::string roundedNumber (const time::Rational& number, int decimals, const CsvLook& look);
/// Reads what both write. Error: not a number.
Result<time::Rational> readNumber (std::string_view cell, const CsvLook& look);

/// A record with the line it begins on, from 1.
struct CsvRecord
{
    std::int64_t line = 1;
    std::vector<std::string> cells;
};

/// A line that could not be read, and why.
struct BadLine
{
    std::int64_t line = 1;
    std::string why;

    friend bool operator== (const BadLine&, const BadLine&) = default;
};

/// A table as read: its first record are the names of the columns.
struct CsvTable
{
    CsvLook look; ///< as found; the decimal sign is a guess from the separator until numbers are read
    std::vector<std::string> columns;
    std::vector<CsvRecord> records;
    std::vector<BadLine> bad;

    /// Which column has that name (blanks around it and case don't matter).
    [[nodiscard]] std::optional<std::size_t> column (std::string_view name) const;
};

/// Records with CRLF after each; a cell is quoted where RFC 4180 asks for it. Cells are written as they are: numbers
/// and guarded text.
std::string writeTable (const std::vector<std::vector<std::string>>& records, const CsvLook& look);

/// Reads a table: with or without byte order mark, UTF-8 (else Latin-1), any of the three separators (the one most
/// often outside quotes in the first record), any line ends. A record with another number of cells than the first, or
/// a quote left open, is bad and named; the others are kept. Error: no record at all.
Result<CsvTable> readTable (std::string_view bytes);
} // namespace shutterbeat::exchange
