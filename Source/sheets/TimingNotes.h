#pragma once

#include "sheets/Sheet.h"

namespace shutterbeat::sheets
{
/// Timing notes for the composer: per cue every hit counted from 0:00.00 at its in (1/100 s), with timecode, delivered frame, feet,
/// bar and beat where the cue has a tempo, lead, weight, what the card says or what happens, and its picture. Hits of no cue
/// follow, counted from picture start; lost ones come last. Pictures only when `pictureAt` is given.
/// Error: Cairo could not write.
Result<Sheet> timingNotes (const spotting::BookTimes& times, const SheetHead& head, const PictureAt& pictureAt = {});

/// Bar and beat of a moment of a cue ("12.3", with the nearest hundredth of a beat after it: "12.3 +25"); empty without a
/// tempo. `clock` is seconds from picture start.
std::string barText (const spotting::CueTimes& cue, const time::Rational& clock);
} // namespace shutterbeat::sheets
