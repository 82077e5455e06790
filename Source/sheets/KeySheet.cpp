#include "sheets/KeySheet.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::sheets
{
namespace
{
constexpr double rowHigh = 15.5, headHigh = 26, columnGap = 30;

/// A line of a column: a heading, or a row.
struct Line
{
    bool heading = false;
    std::string words, key;
    [[nodiscard]] double high() const { return heading ? headHigh : rowHigh; }
};

/// Columns no higher than `room`, as even as they go; a heading is never last in one.
std::vector<std::vector<Line>> columnsOf (const std::vector<Line>& lines, double room)
{
    double whole = 0;
    for (const auto& line : lines)
        whole += line.high();
    const auto pages = std::max (1.0, std::ceil (whole / (2 * room)));
    const double aim = std::min (room, whole / (2 * pages) + headHigh);
    std::vector<std::vector<Line>> columns (1);
    double high = 0;
    for (std::size_t i = 0; i < lines.size(); ++i)
    {
        const double needed = lines[i].high() + (lines[i].heading ? 2 * rowHigh : 0);
        if (high + needed > aim && ! columns.back().empty())
        {
            columns.emplace_back();
            high = 0;
        }
        columns.back().push_back (lines[i]);
        high += lines[i].high();
    }
    return columns;
}

void drawColumn (cairo_t* cairo, Words& words, const std::vector<Line>& column, double x, double y, double width)
{
    for (const auto& line : column)
    {
        if (line.heading)
        {
            words.line (cairo, line.words, { Face::words, 11, true, night }, x, y + 18);
            fillBox (cairo, x, y + 23, width, 0.8, night);
        }
        else
        {
            words.line (cairo, line.key, { Face::figures, 9, true }, x, y + 11.5);
            words.line (cairo, words.fitted (line.words, { Face::words, 9 }, width - 104), { Face::words, 9 }, x + 104, y + 11.5);
        }
        y += line.high();
    }
}
} // namespace

Result<Sheet> keySheet (const std::vector<KeyGroup>& groups, Paper paper)
{
    const auto size = pageSize (paper);
    Words words;
    std::vector<Line> lines;
    for (const auto& group : groups)
    {
        bool first = true;
        for (const auto& [what, key] : group.rows)
        {
            if (key.empty())
                continue;
            if (first)
                lines.push_back ({ true, group.name, {} });
            first = false;
            lines.push_back ({ false, what, key });
        }
    }
    constexpr double titleHigh = 44;
    auto columns = columnsOf (lines, size.textHeight() - titleHigh - 12);
    const double width = (size.textWidth() - columnGap) / 2;
    std::vector<Block> blocks;
    Block title;
    title.height = titleHigh;
    title.keepWithNext = true;
    title.draw = [&words, wide = size.textWidth()] (cairo_t* cairo, double x, double y)
    {
        words.line (cairo, "Keys of the bench window", { Face::words, 20, true }, x, y + 22);
        fillBox (cairo, x, y + 32, wide, 1.2, night);
    };
    blocks.push_back (std::move (title));
    for (std::size_t i = 0; i < columns.size(); i += 2)
    {
        const auto left = columns[i];
        const auto right = i + 1 < columns.size() ? columns[i + 1] : std::vector<Line>{};
        double high = 0, other = 0;
        for (const auto& line : left)
            high += line.high();
        for (const auto& line : right)
            other += line.high();
        Block block;
        block.height = std::max (high, other);
        block.spaceBefore = 6;
        block.draw = [&words, left, right, width] (cairo_t* cairo, double x, double y)
        {
            drawColumn (cairo, words, left, x, y, width);
            drawColumn (cairo, words, right, x + width + columnGap, y, width);
        };
        blocks.push_back (std::move (block));
    }
    auto pdf = pdfOf (blocks, size, words, "Shutterbeat: F1 in the window finds every action by its name", { "Keys", "" });
    if (! pdf)
        return pdf.error();
    return Sheet{ std::move (*pdf), words.missingLetters() };
}
} // namespace shutterbeat::sheets
