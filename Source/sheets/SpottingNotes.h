#pragma once

#include "sheets/Sheet.h"
#include "spotting/Times.h"

#include <functional>
#include <optional>

namespace shutterbeat::sheets
{
/// The picture of a hit's frame, or none where it can't be had.
using PictureOf = std::function<std::optional<SheetPicture> (const spotting::HitTimes&)>;

/// The spotting notes: per cue its number, title, in, out, length, kind, status, mood and note, then its hits in time
/// order, each with picture, clock from the cue's in (1/100 s), timecode, film frame, feet, mark, wording or label, limits
/// and note; hits of no cue after them (clock from picture start), lost ones last. Pictures are asked for in the order of
/// the prints' files, so that each is decoded once; without `pictureOf` the sheet has none.
/// Error: Cairo could not write.
Result<Sheet> spottingNotes (const spotting::BookTimes& times, const SheetHead& head, const PictureOf& pictureOf = {});
} // namespace shutterbeat::sheets
