#include "exchange/ChangeTable.h"

#include "time/Text.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace shutterbeat::exchange
{
namespace
{
using spotting::SamePart;
constexpr std::int64_t farthest = 10'000'000; // film frames: five days and more

const std::array<const char*, 10> columnNames{ "shot",       "what", "old first", "old frames",   "new first",
                                               "new frames", "by",   "kind",      "made seconds", "same pictures" };

std::string rangeText (std::int64_t first, std::int64_t frames)
{
    return std::to_string (first) + ".." + std::to_string (first + frames - 1);
}

/// "60..119": first and count.
std::optional<std::pair<std::int64_t, std::int64_t>> rangeOf (std::string_view text)
{
    const auto dots = text.find ("..");
    if (dots == std::string_view::npos)
        return {};
    const auto first = time::parseWhole (time::trimmed (text.substr (0, dots)));
    const auto last = time::parseWhole (time::trimmed (text.substr (dots + 2)));
    if (! first || ! last || *first < 0 || *last < *first || *last > farthest)
        return {};
    return std::pair (*first, *last - *first + 1);
}

/// One line of a table while it is read.
class Line
{
public:
    Line (const CsvTable& table, const CsvRecord& record)
        : names (table)
        , cells (record)
    {
    }

    [[nodiscard]] std::string text (const char* column) const
    {
        const auto at = names.column (column);
        if (! at)
            return "";
        const auto whole = readText (cells.cells[*at]);
        return std::string (time::trimmed (whole));
    }

    /// None where the cell is empty.
    std::optional<std::int64_t> frames (const char* column)
    {
        const auto cell = text (column);
        if (cell.empty())
            return {};
        const auto value = time::parseWhole (cell);
        if (! value || *value < 0 || *value > farthest)
            fail (std::string (column) + " \"" + cell + "\" is not a number of film frames from 0 to " + std::to_string (farthest));
        return value;
    }

    void fail (const std::string& text)
    {
        if (why.empty())
            why = text;
    }

    std::string why;

private:
    const CsvTable& names;
    const CsvRecord& cells;
};

void readSame (Line& line, ListedChange& row, const std::string& text)
{
    for (const auto part : time::splitAt (text, ';'))
    {
        const auto equals = part.find ('=');
        const auto old = rangeOf (part.substr (0, equals));
        const auto now = equals == std::string_view::npos ? std::nullopt : rangeOf (part.substr (equals + 1));
        if (! old || ! now || old->second != now->second)
            return line.fail ("same pictures \"" + std::string (part)
                              + "\" has to read like 60..119=48..107, as many on either side");
        if (! row.newFirst || now->first < *row.newFirst || now->first + now->second > *row.newFirst + row.newFrames)
            return line.fail ("same pictures \"" + std::string (part) + "\" lies outside the row's own new frames");
        row.same.push_back ({ old->first, now->first, now->second });
    }
    std::sort (row.same.begin(), row.same.end(), [] (const SamePart& a, const SamePart& b) { return a.newFirst < b.newFirst; });
    for (std::size_t i = 1; i < row.same.size(); ++i)
        if (row.same[i].newFirst < row.same[i - 1].newFirst + row.same[i - 1].frames)
            return line.fail ("same pictures name a new film frame twice");
}

/// Where nothing says which pictures are the same, the lengths and "head -12", "tail +3" do.
void deduceSame (Line& line, ListedChange& row, const std::vector<std::string>& words)
{
    if (! row.oldFirst || ! row.newFirst || row.remade || row.made)
        return;
    std::int64_t head = 0, tail = 0;
    for (const auto& word : words)
    {
        if (time::startsWith (word, "inside"))
            return line.fail ("\"" + word + "\" does not say where; fill the column same pictures, or give the parts a row each");
        for (auto [name, value] : { std::pair ("head ", &head), std::pair ("tail ", &tail) })
            if (time::startsWith (word, name))
            {
                auto number = std::string_view (word).substr (5);
                if (time::startsWith (number, "+"))
                    number.remove_prefix (1);
                const auto by = time::parseWhole (number);
                if (! by || std::abs (*by) > farthest)
                    return line.fail ("\"" + word + "\" does not say by how many film frames");
                *value = *by;
            }
    }
    if (row.oldFrames + head + tail != row.newFrames)
        return line.fail ("has " + std::to_string (row.oldFrames) + " old and " + std::to_string (row.newFrames)
                          + " new film frames, and nothing says where they differ; write head -12 or tail +3 in the column what");
    const auto frames = row.oldFrames + std::min<std::int64_t> (0, head) + std::min<std::int64_t> (0, tail);
    if (frames <= 0)
        return line.fail ("leaves no picture of the shot; say remade, or cut it out and put the new one in a row of its own");
    row.same.push_back (
        { *row.oldFirst + std::max<std::int64_t> (0, -head), *row.newFirst + std::max<std::int64_t> (0, head), frames });
}

ListedChange readRow (Line& line, const CsvLook& look)
{
    ListedChange row;
    row.shot = line.text ("shot");
    row.oldFirst = line.frames ("old first");
    row.oldFrames = line.frames ("old frames").value_or (0);
    row.newFirst = line.frames ("new first");
    row.newFrames = line.frames ("new frames").value_or (0);
    if (! row.oldFirst && ! row.newFirst)
        line.fail ("names neither an old nor a new first film frame");
    if (const auto kind = time::lowerAscii (line.text ("kind")); ! kind.empty())
    {
        if (const auto known = film::shotKindNamed (kind))
            row.kind = *known;
        else
            line.fail ("kind \"" + kind + "\" is neither shot, card nor black");
    }
    if (const auto seconds = line.text ("made seconds"); ! seconds.empty())
    {
        const auto value = readNumber (seconds, look);
        if (! value || value->sign() <= 0)
            line.fail ("made seconds \"" + seconds + "\" is not a number of seconds above zero");
        else
            row.made = *value;
    }
    if (row.newFirst && ! row.made && row.newFrames == 0)
        line.fail ("has no new frames; cut out shots have no new first film frame");
    std::vector<std::string> words;
    const auto what = time::lowerAscii (line.text ("what"));
    for (const auto word : time::splitAt (what, ','))
        words.emplace_back (time::trimmed (word));
    row.remade = std::find (words.begin(), words.end(), "remade") != words.end();
    if (row.remade && ! (row.oldFirst && row.newFirst))
        line.fail ("is remade, and so has to say where it was and where it is");
    if (const auto same = line.text ("same pictures"); ! same.empty())
        readSame (line, row, same);
    else
        deduceSame (line, row, words);
    return row;
}
} // namespace

std::string changeTable (const std::vector<spotting::RecutRow>& rows)
{
    const CsvLook look{ false, ',', '.' };
    std::vector<std::vector<std::string>> records{ { columnNames.begin(), columnNames.end() } };
    for (const auto& row : rows)
    {
        const bool was = row.oldFirst >= 0, is = row.newFirst >= 0;
        std::string same;
        for (const auto& part : row.same)
            same +=
                (same.empty() ? "" : ";") + rangeText (part.oldFirst, part.frames) + "=" + rangeText (part.newFirst, part.frames);
        const std::string by = ! was || ! is ? "" : (row.by > 0 ? "+" : "") + std::to_string (row.by);
        records.push_back ({ guardedText (row.shot), spotting::whatText (row), was ? std::to_string (row.oldFirst) : "",
                             was ? std::to_string (row.oldFrames) : "", is ? std::to_string (row.newFirst) : "",
                             is ? std::to_string (row.newFrames) : "", by, std::string (film::shotKindName (row.kind)),
                             row.made ? exactNumber (*row.made, look) : "", same });
    }
    return writeTable (records, look);
}

Result<ChangeTable> readChangeTable (std::string_view bytes)
{
    auto table = readTable (bytes);
    if (! table)
        return table.error();
    for (const char* name : { "old first", "old frames", "new first", "new frames" })
        if (! table->column (name))
            return unreadable ("change list", "has no column \"" + std::string (name)
                                                  + "\"; old first, old frames, new first and new frames are needed");
    ChangeTable changes;
    changes.bad = table->bad;
    for (const auto& record : table->records)
    {
        Line line (*table, record);
        auto row = readRow (line, table->look);
        row.line = record.line;
        if (line.why.empty())
            changes.rows.push_back (std::move (row));
        else
            changes.bad.push_back ({ record.line, line.why });
    }
    std::stable_sort (changes.bad.begin(), changes.bad.end(), [] (const BadLine& a, const BadLine& b) { return a.line < b.line; });
    return changes;
}
} // namespace shutterbeat::exchange
