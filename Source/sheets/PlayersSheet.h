#pragma once

#include "sheets/Sheet.h"
#include "spotting/Book.h"

namespace shutterbeat::sheets
{
/// The sheet a pianist or band plays a showing from, in the manner of the 1920s: number, "At title" or "At action" with what is
/// seen there, piece, tempo and mood, minutes and seconds as the house projects it, segue, tacet, effects. `times` are at the
/// house's speed; durations are film time itself, rounded once to whole seconds. Error: Cairo could not write.
Result<Sheet> playersSheet (const spotting::Book& book, const spotting::BookTimes& times, const SheetHead& head);
} // namespace shutterbeat::sheets
