#include "Catch.h"

#include "reading/ReadLines.h"

using namespace shutterbeat;
using reading::SeenWord;

namespace
{
SeenWord word (const std::string& text, int left, int top, double confidence = 0.96)
{
    return { text, confidence, left, top, left + 18 * static_cast<int> (text.size()), top + 40 };
}
reading::CardWording wordingOf (const std::vector<SeenWord>& words)
{
    std::vector<SeenWord> kept;
    return reading::wordingOf (words, 32, kept);
}
} // namespace

TEST_CASE ("words become lines by where they stand, columns beside one another")
{
    const auto wording =
        wordingOf ({ word ("Rosa", 40, 100), word ("The", 40, 40), word ("kite", 120, 44), word ("flies", 300, 104) });
    CHECK (wording.text == "The kite\nRosa flies");
    CHECK_FALSE (wording.doubtful);
    CHECK (wording.confidence == Approx (0.96));
}

TEST_CASE ("what ornaments and specks were taken for is left out")
{
    CHECK (wordingOf ({ word ("The", 40, 40), word ("kite", 120, 40), word ("~|", 300, 40, 0.3), word ("&", 90, 300, 0.99),
                        word ("i", 90, 400, 0.99) })
               .text
           == "The kite");
    CHECK (wordingOf ({ word ("~Rosa", 40, 40) }).text == "Rosa");
    // Alone on a card a mark is what it says, and a numeral above the writing is a numeral.
    CHECK (wordingOf ({ word ("?", 40, 40) }).text == "?");
    CHECK (wordingOf ({ word ("3", 100, 40), word ("The", 40, 90), word ("kite", 120, 90) }).text == "3\nThe kite");
}

TEST_CASE ("one unsure word, or little of anything, makes a wording doubtful")
{
    CHECK (wordingOf ({ word ("The", 40, 40), word ("kitc", 120, 40, 0.5) }).doubtful);
    CHECK (wordingOf ({ word ("Thc", 40, 40, 0.8), word ("kitc", 120, 40, 0.8) }).doubtful);
    CHECK (wordingOf ({ word ("FI", 40, 40, 0.9) }).doubtful);
    CHECK_FALSE (wordingOf ({ word ("End", 40, 40) }).doubtful);
    CHECK (wordingOf ({}).doubtful);
}

TEST_CASE ("ink that no word accounts for makes a wording doubtful")
{
    film::GreyPicture ink;
    ink.width = 400;
    ink.height = 200;
    ink.pixels.assign (80000, 255);
    const auto fill = [&] (int left, int top, int right, int bottom)
    {
        for (int y = top; y < bottom; ++y)
            for (int x = left; x < right; ++x)
                ink.pixels[static_cast<std::size_t> (y * 400 + x)] = 0;
    };
    fill (50, 45, 100, 75);
    std::vector<SeenWord> kept;
    auto wording = reading::wordingOf ({ word ("kite", 40, 40) }, 32, kept);
    reading::doubtUnread (wording, ink, kept);
    CHECK_FALSE (wording.doubtful);
    fill (50, 130, 100, 175);
    reading::doubtUnread (wording, ink, kept);
    CHECK (wording.doubtful);
}
