#include "reading/InkPieces.h"

#include <algorithm>
#include <cstddef>
#include <cstdlib>

namespace shutterbeat::reading
{
namespace
{
bool isNoLetter (const InkPiece& piece, int width, int height)
{
    const bool hollow = piece.w * 10 > width * 4 && piece.h * 10 > height * 4;
    const bool rule = piece.w > 4 * piece.h && piece.w * 12 > width && piece.strokes < 1.2;
    const bool scratch = piece.h > 8 * piece.w && piece.h * 10 > height * 2;
    const bool atEdge = (piece.x <= 1 || piece.y <= 1 || piece.x + piece.w >= width - 1 || piece.y + piece.h >= height - 1)
                        && (piece.w * 10 > width || piece.h * 10 > height);
    return hollow || rule || scratch || atEdge;
}

constexpr int leastArea = 8; // smaller pieces are specks or dots

/// Takes out what stands at the left and at the right of the upper (or lower) part and is not linked with the middle, as
/// lines of writing are.
void takeCorners (const std::vector<InkPiece>& pieces, std::vector<bool>& letter, int width, int height, bool upper)
{
    const double wordGap = 2.5 * letterHeightOf (pieces, letter);
    std::vector<std::size_t> corners;
    double left = 0;
    double right = 0;
    int top = height;
    int bottom = 0;
    int inner = 0; // how far the ink at the left reaches
    int outer = width;
    for (std::size_t i = 0; i < pieces.size(); ++i)
    {
        const InkPiece& p = pieces[i];
        const bool there = upper ? (p.y + p.h) * 10 <= height * 3 : p.y * 10 >= height * 7;
        const bool atLeft = (p.x + p.w) * 4 <= width;
        const bool atRight = p.x * 4 >= width * 3;
        if (! letter[i] || ! there || ! (atLeft || atRight))
            continue;
        corners.push_back (i);
        if (p.area >= leastArea)
        {
            (atLeft ? left : right) += p.area;
            top = std::min (top, p.y);
            bottom = std::max (bottom, p.y + p.h);
            if (atLeft)
                inner = std::max (inner, p.x + p.w);
            else
                outer = std::min (outer, p.x);
        }
    }
    if (left <= 0 || right <= 0 || std::max (left, right) > 2 * std::min (left, right))
        return;
    for (std::size_t i = 0; i < pieces.size(); ++i)
    {
        const InkPiece& p = pieces[i];
        const bool between = (p.x + p.w) * 4 > width && p.x * 4 < width * 3;
        if (letter[i] && between && p.area >= leastArea && p.y < bottom && p.y + p.h > top
            && (p.x - inner < wordGap || outer - p.x - p.w < wordGap))
            return;
    }
    for (const std::size_t i : corners)
        letter[i] = false;
}

} // namespace

double letterHeightOf (const std::vector<InkPiece>& pieces, const std::vector<bool>& letter)
{
    std::vector<int> heights;
    for (std::size_t i = 0; i < pieces.size(); ++i)
        // Specks and hyphens say nothing of the letters' size; the taller a piece the more it counts.
        if (const InkPiece& p = pieces[i]; letter[i] && p.h >= 4 && p.area >= leastArea && p.w < 4 * p.h)
            heights.insert (heights.end(), static_cast<std::size_t> (p.h), p.h);
    if (heights.empty())
        return 0;
    const auto middle = heights.begin() + static_cast<std::ptrdiff_t> (heights.size() / 2);
    std::nth_element (heights.begin(), middle, heights.end());
    return *middle;
}

std::vector<bool> lettersAmong (const std::vector<InkPiece>& pieces, int width, int height)
{
    std::vector<bool> letter;
    for (const InkPiece& piece : pieces)
        letter.push_back (! isNoLetter (piece, width, height));
    takeCorners (pieces, letter, width, height, true);
    takeCorners (pieces, letter, width, height, false);
    return letter;
}

void takeLeaders (const std::vector<InkPiece>& pieces, std::vector<bool>& letter)
{
    const double letterHeight = letterHeightOf (pieces, letter);
    constexpr std::size_t fewest = 6; // three are a pause in speech
    std::vector<std::size_t> dots;
    for (std::size_t i = 0; i < pieces.size(); ++i)
        if (letter[i] && pieces[i].h <= 0.35 * letterHeight && pieces[i].w <= 0.45 * letterHeight)
            dots.push_back (i);
    std::sort (dots.begin(), dots.end(), [&] (std::size_t a, std::size_t b) { return pieces[a].x < pieces[b].x; });
    std::vector<std::vector<std::size_t>> rows;
    for (const std::size_t i : dots)
    {
        const InkPiece& p = pieces[i];
        const auto row = std::find_if (rows.begin(), rows.end(),
                                       [&] (const auto& r)
                                       {
                                           const InkPiece& last = pieces[r.back()];
                                           return p.x - last.x - last.w < letterHeight
                                                  && std::abs (p.y + p.h - last.y - last.h) <= std::max (1.0, 0.15 * letterHeight);
                                       });
        (row == rows.end() ? rows.emplace_back() : *row).push_back (i);
    }
    for (const auto& row : rows)
        if (row.size() >= fewest)
            for (const std::size_t i : row)
                letter[i] = false;
}
} // namespace shutterbeat::reading
