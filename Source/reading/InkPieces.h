#pragma once

#include <vector>

namespace shutterbeat::reading
{
/// A connected piece of ink: its box in pixels, and how many of them are ink.
struct InkPiece
{
    int x = 0, y = 0, w = 0, h = 0, area = 0;
    double strokes = 1; ///< how many runs of ink a column has on average: about 1 in rules and waves, more in writing
};

/// The height of the letters that there are most of, in pixels; 0: there are none. `letter` says which pieces count.
double letterHeightOf (const std::vector<InkPiece>& pieces, const std::vector<bool>& letter);

/// Which pieces of a picture of width x height may be writing. Not: a frame round it, rules and waves, scratches, what hangs
/// in from the edge, leaves in opposite corners.
std::vector<bool> lettersAmong (const std::vector<InkPiece>& pieces, int width, int height);

/// Takes the dots out that lead from one column to the next: six or more in a row.
void takeLeaders (const std::vector<InkPiece>& pieces, std::vector<bool>& letter);
} // namespace shutterbeat::reading
