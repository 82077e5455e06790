#pragma once

#include "sheets/Sheet.h"
#include "spotting/Times.h"

namespace shutterbeat::sheets
{
/// The spotting notes: per cue its number, title, in, out, length, kind, status, mood and note, what is seen where it starts and
/// stops with the pictures there, then its hits in time order, each with picture, clock from the cue's in (1/100 s), timecode,
/// film frame, feet, mark, wording or label, limits and note; hits of no cue after them (clock from picture start), lost ones
/// last. Without `pictureAt` the sheet has no pictures. Error: Cairo could not write.
Result<Sheet> spottingNotes (const spotting::BookTimes& times, const SheetHead& head, const PictureAt& pictureAt = {});
} // namespace shutterbeat::sheets
