#include "Catch.h"

#include "reading/InkPieces.h"

using namespace shutterbeat;
using reading::InkPiece;

namespace
{
/// Letters 12 wide and 18 high from x on, at y.
void write (std::vector<InkPiece>& pieces, int count, int x, int y)
{
    for (int i = 0; i < count; ++i)
        pieces.push_back ({ x + 16 * i, y, 12, 18, 90, 1.8 });
}
} // namespace

TEST_CASE ("frames, rules, waves, scratches and leaves in the corners are no letters")
{
    std::vector<InkPiece> pieces;
    write (pieces, 20, 160, 200);
    write (pieces, 18, 170, 240);
    const std::size_t letters = pieces.size();
    pieces.push_back ({ 30, 26, 580, 428, 5000, 2 });  // the frame
    pieces.push_back ({ 200, 390, 110, 10, 300, 1 });  // a wave
    pieces.push_back ({ 400, 60, 3, 200, 500, 1 });    // a scratch
    pieces.push_back ({ 0, 100, 70, 200, 6000, 1.5 }); // something at the edge
    for (const int x : { 50, 560 })
        for (const int y : { 50, 400 })
            pieces.push_back ({ x, y, 26, 30, 240, 1.6 }); // leaves
    const auto letter = reading::lettersAmong (pieces, 640, 480);
    for (std::size_t i = 0; i < pieces.size(); ++i)
    {
        INFO ("piece " << i);
        CHECK (letter[i] == (i < letters));
    }
    CHECK (reading::letterHeightOf (pieces, letter) == 18);
}

TEST_CASE ("a line of writing at the very top is no ornament, nor is a letter's last line at the left")
{
    std::vector<InkPiece> pieces;
    write (pieces, 34, 40, 40);   // from side to side
    write (pieces, 8, 40, 420);   // a name at the left
    write (pieces, 20, 160, 200); // in the middle
    for (const bool is : reading::lettersAmong (pieces, 640, 480))
        CHECK (is);
}

TEST_CASE ("a long word whose letters hang together is no rule")
{
    const std::vector<InkPiece> pieces{ { 200, 200, 90, 18, 420, 1.9 }, { 320, 200, 12, 18, 90, 1.8 } };
    CHECK (reading::lettersAmong (pieces, 640, 480)[0]);
}

TEST_CASE ("dots that lead to the next column go, three that are a pause stay")
{
    std::vector<InkPiece> pieces;
    write (pieces, 10, 40, 100);
    for (int i = 0; i < 12; ++i)
        pieces.push_back ({ 210 + 9 * i, 115, 3, 3, 9, 1 });
    write (pieces, 10, 340, 100);
    write (pieces, 10, 40, 200);
    for (int i = 0; i < 3; ++i)
        pieces.push_back ({ 210 + 9 * i, 215, 3, 3, 9, 1 });
    std::vector<bool> letter (pieces.size(), true);
    reading::takeLeaders (pieces, letter);
    for (std::size_t i = 0; i < pieces.size(); ++i)
    {
        INFO ("piece " << i);
        CHECK (letter[i] == (i < 10 || i >= 22));
    }
}
