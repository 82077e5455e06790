#include "sheets/KeySheet.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::sheets
{
namespace
{
constexpr double rowHigh = 15.5, headHigh = 26, columnGap = 30, keyWide = 82;

/// A line of a column: a heading, or a row.
struct Line
{
    bool heading = false;
    std::string words, key;
    [[nodiscard]] double high() const { return heading ? headHigh : rowHigh; }
};

/// Columns no higher than `room`. A group that fits into one is not broken; of one that does not, the heading is repeated.
std::vector<std::vector<Line>> columnsOf (const std::vector<KeyGroup>& groups, double room)
{
    std::vector<std::vector<Line>> columns (1);
    double high = 0;
    const auto fresh = [&]
    {
        if (! columns.back().empty())
            columns.emplace_back();
        high = 0;
    };
    for (const auto& group : groups)
    {
        std::vector<Line> rows;
        for (const auto& [what, key] : group.rows)
            if (! key.empty())
                rows.push_back ({ false, what, key });
        if (rows.empty())
            continue;
        const double whole = headHigh + rowHigh * static_cast<double> (rows.size());
        if (high + std::min (whole, headHigh + 2 * rowHigh) > room || (high + whole > room && whole <= room))
            fresh();
        columns.back().push_back ({ true, group.name, {} });
        high += headHigh;
        for (auto& row : rows)
        {
            if (high + rowHigh > room)
            {
                fresh();
                columns.back().push_back ({ true, group.name + ", continued", {} });
                high = headHigh;
            }
            columns.back().push_back (std::move (row));
            high += rowHigh;
        }
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
            words.line (cairo, words.fitted (line.words, { Face::words, 9 }, width - keyWide), { Face::words, 9 }, x + keyWide,
                        y + 11.5);
        }
        y += line.high();
    }
}
} // namespace

Result<Sheet> keySheet (const std::vector<KeyGroup>& groups, Paper paper)
{
    const auto size = pageSize (paper);
    Words words;
    constexpr double titleHigh = 44;
    auto columns = columnsOf (groups, size.textHeight() - titleHigh - 12);
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
