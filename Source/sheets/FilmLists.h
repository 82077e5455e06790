#pragma once

#include "sheets/Sheet.h"
#include "spotting/CardRegister.h"

namespace shutterbeat::sheets
{
/// The title list for whoever makes the cards: every card of the edition with wording, picture, where it stands, length in seconds,
/// film frames and feet, and whether it can be read by each rule. Error: Cairo could not write.
Result<Sheet> titleList (const spotting::Book& book, const spotting::BookTimes& times, const SheetHead& head,
                         const PictureAt& pictureAt = {});

/// The source list for the archive: every shot and card of the edition with kind, print, file, first source frame, length, and
/// whether it is made for this edition. Error: Cairo could not write.
Result<Sheet> sourceList (const spotting::BookTimes& times, const SheetHead& head);
} // namespace shutterbeat::sheets
