#pragma once

#include "reading/CardReader.h"

#include <string>
#include <vector>

namespace shutterbeat::reading
{
/// A word as Tesseract hands it over; edges in pixels.
struct SeenWord
{
    std::string text;
    double confidence = 0; ///< 0 to 1
    int left = 0, top = 0, right = 0, bottom = 0;
};

/// Lines of words without what ornaments, specks and scratches were taken for, judged as a whole.
/// `kept` gets the words that were kept, where they stand.
CardWording wordingOf (const std::vector<SeenWord>& words, double letterHeight, std::vector<SeenWord>& kept);

/// A wording is doubtful too when much of the ink (darker than 128) lies in none of its words.
void doubtUnread (CardWording& wording, const film::GreyPicture& ink, const std::vector<SeenWord>& kept);

/// How good a reading is beside others of the same card: letters count as far as they are likelier right than wrong.
double scoreOf (const CardWording& wording);
} // namespace shutterbeat::reading
