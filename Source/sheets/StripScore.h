#pragma once

#include "sheets/Sheet.h"

namespace shutterbeat::sheets
{
/// The strip score for who composes by hand: time from left to right in true proportion, a page a minute; the picture at each cut,
/// card wordings, hits, bars of cues with a tempo, and blank staves below. Landscape. Of pictures or words that would run into
/// each other the later ones step down, and where there is no more room a cut keeps its line only. Error: Cairo could not write.
Result<Sheet> stripScore (const spotting::BookTimes& times, const SheetHead& head, const PictureAt& pictureAt = {});
} // namespace shutterbeat::sheets
