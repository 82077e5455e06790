#include "exchange/CsvTable.h"

#include "exchange/PlainText.h"
#include "time/Text.h"

#include <algorithm>

namespace shutterbeat::exchange
{
namespace
{
constexpr std::string_view byteOrderMark = "\xEF\xBB\xBF";

bool needsGuard (char first)
{
    return std::string_view ("=+-@\t\r\n'").find (first) != std::string_view::npos;
}

std::string withSign (std::string number, const CsvLook& look)
{
    std::replace (number.begin(), number.end(), '.', look.decimalSign);
    return number;
}

/// The separator found most often outside quotes in the first record; a comma where there is none.
char sniffSeparator (std::string_view text)
{
    constexpr std::string_view candidates = ",;\t";
    std::int64_t counts[3] = {};
    bool quoted = false;
    for (const char c : text)
    {
        if (c == '"')
            quoted = ! quoted;
        else if (! quoted && (c == '\n' || c == '\r'))
            break;
        else if (const auto which = candidates.find (c); ! quoted && which != std::string_view::npos)
            ++counts[which];
    }
    return candidates[static_cast<std::size_t> (std::max_element (counts, counts + 3) - counts)];
}

/// Cuts text into records; a state machine over bytes, since every sign that matters is ASCII.
class Cutter
{
public:
    Cutter (std::string_view input, char separatorSign)
        : text (input)
        , separator (separatorSign)
    {
    }

    [[nodiscard]] bool atEnd() const { return at >= text.size(); }

    /// The next record; `why` says what is wrong with it, if anything.
    CsvRecord next (std::string& why)
    {
        CsvRecord record;
        record.line = line;
        why.clear();
        for (;;)
        {
            record.cells.push_back (cell (why));
            if (atEnd())
                return record;
            const char c = text[at];
            ++at;
            if (c == separator)
                continue;
            if (c == '\r' && ! atEnd() && text[at] == '\n')
                ++at;
            ++line;
            return record;
        }
    }

private:
    [[nodiscard]] bool ends (char c) const { return c == separator || c == '\r' || c == '\n'; }

    std::string cell (std::string& why)
    {
        std::string value;
        if (! atEnd() && text[at] == '"')
        {
            const auto opened = line;
            ++at;
            bool closed = false;
            while (! atEnd() && ! closed)
            {
                const char c = text[at++];
                if (c == '\n' || (c == '\r' && (atEnd() || text[at] != '\n')))
                    ++line;
                if (c != '"')
                    value += c;
                else if (! atEnd() && text[at] == '"')
                    value += text[at++];
                else
                    closed = true;
            }
            if (! closed)
                why = "a quotation mark opened on line " + std::to_string (opened) + " is never closed";
            else if (! atEnd() && ! ends (text[at]))
                why = "text follows a closed quotation mark";
        }
        // Whatever stands after a closed quote is kept: the record is named bad, not lost track of.
        while (! atEnd() && ! ends (text[at]))
            value += text[at++];
        return value;
    }

    std::string_view text;
    char separator;
    std::size_t at = 0;
    std::int64_t line = 1;
};
} // namespace

std::string guardedText (std::string_view text)
{
    return (! text.empty() && needsGuard (text[0]) ? "'" : "") + std::string (text);
}

std::string readText (std::string_view cell)
{
    if (cell.size() > 1 && cell[0] == '\'' && needsGuard (cell[1]))
        cell.remove_prefix (1);
    return std::string (cell);
}

std::string exactNumber (const time::Rational& number, const CsvLook& look)
{
    time::Int128 scale = 1;
    for (int decimals = 0; decimals <= 9; ++decimals, scale *= 10)
        if (scale % number.denominator() == 0)
            return withSign (time::decimalText (number, decimals), look);
    return time::fractionText (number);
}

std::string roundedNumber (const time::Rational& number, int decimals, const CsvLook& look)
{
    return withSign (time::decimalText (number, decimals), look);
}

Result<time::Rational> readNumber (std::string_view cell, const CsvLook& look)
{
    std::string number (time::trimmed (cell));
    if (look.decimalSign == ',')
    {
        if (number.find ('.') != std::string::npos)
            return unreadable ("\"" + number + "\"", "has a decimal point in a table of decimal commas");
        std::replace (number.begin(), number.end(), ',', '.');
    }
    return time::parseRational (number);
}

std::optional<std::size_t> CsvTable::column (std::string_view name) const
{
    for (std::size_t i = 0; i < columns.size(); ++i)
        if (const auto own = time::trimmed (columns[i]); own.size() == name.size() && time::lowerAscii (own) == name)
            return i;
    return {};
}

std::string writeTable (const std::vector<std::vector<std::string>>& records, const CsvLook& look)
{
    std::string text (look.byteOrderMark ? byteOrderMark : "");
    for (const auto& record : records)
    {
        for (std::size_t i = 0; i < record.size(); ++i)
        {
            if (i > 0)
                text += look.separator;
            const auto& cell = record[i];
            if (cell.find_first_of (std::string ("\"\r\n") + look.separator) == std::string::npos)
            {
                text += cell;
                continue;
            }
            text += '"';
            for (const char c : cell)
                text += c == '"' ? "\"\"" : std::string (1, c);
            text += '"';
        }
        text += "\r\n";
    }
    return text;
}

Result<CsvTable> readTable (std::string_view bytes)
{
    CsvTable table;
    table.look.byteOrderMark = time::startsWith (bytes, byteOrderMark);
    if (table.look.byteOrderMark)
        bytes.remove_prefix (byteOrderMark.size());
    const std::string text = fromUtf8OrLatin1 (bytes);
    table.look.separator = sniffSeparator (text);
    table.look.decimalSign = table.look.separator == ';' ? ',' : '.';
    Cutter cutter (text, table.look.separator);
    while (! cutter.atEnd())
    {
        std::string why;
        auto record = cutter.next (why);
        const bool blank = record.cells.size() == 1 && time::trimmed (record.cells[0]).empty();
        if (blank && why.empty())
            continue;
        if (table.columns.empty())
        {
            if (! why.empty())
                return unreadable ("line " + std::to_string (record.line), why + "; the names of the columns can't be read");
            table.columns = std::move (record.cells);
            continue;
        }
        if (why.empty() && record.cells.size() != table.columns.size())
            why = "has " + std::to_string (record.cells.size()) + " cells where the first line has "
                  + std::to_string (table.columns.size());
        if (why.empty())
            table.records.push_back (std::move (record));
        else
            table.bad.push_back ({ record.line, why });
    }
    if (table.columns.empty())
        return unreadable ("table", "is empty; a first line with the names of the columns is needed");
    return table;
}
} // namespace shutterbeat::exchange
