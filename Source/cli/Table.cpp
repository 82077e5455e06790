#include "cli/Table.h"

#include <algorithm>

namespace shutterbeat::cli
{
namespace
{
/// Letters, not bytes, so that columns line up with æ and ø in them.
std::size_t width (const std::string& text)
{
    return static_cast<std::size_t> (std::count_if (text.begin(), text.end(), [] (char c) { return (c & 0xC0) != 0x80; }));
}

std::string cell (std::string text, std::size_t wide, bool right)
{
    const std::size_t have = width (text);
    const std::string blanks (have < wide ? wide - have : 0, ' ');
    return right ? blanks + text : text + blanks;
}
} // namespace

void printTable (const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& rows, std::ostream& out)
{
    std::vector<std::size_t> wide;
    for (std::size_t c = 0; c < columns.size(); ++c)
    {
        wide.push_back (width (columns[c].head));
        for (const auto& row : rows)
            wide[c] = std::max (wide[c], width (row[c]));
    }
    const auto line = [&] (const auto& text)
    {
        std::string all;
        for (std::size_t c = 0; c < columns.size(); ++c)
            all += (c > 0 ? "  " : "") + cell (text (c), wide[c], columns[c].right);
        out << all.substr (0, all.find_last_not_of (' ') + 1) << "\n";
    };
    line ([&] (std::size_t c) { return columns[c].head; });
    for (const auto& row : rows)
        line ([&] (std::size_t c) { return row[c]; });
}

std::string oneLine (std::string text)
{
    std::replace (text.begin(), text.end(), '\n', ' ');
    std::replace (text.begin(), text.end(), '\r', ' ');
    std::replace (text.begin(), text.end(), '\t', ' ');
    return text;
}
} // namespace shutterbeat::cli
