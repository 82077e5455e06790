#pragma once

#include "desk/LineUp.h"
#include "sheets/LineUpSheet.h"

namespace shutterbeat::desk
{
/// A line-up as the report prints it. The hits are `times`'s own, which has to outlive it.
sheets::LineUpPart partOf (const spotting::BookTimes& times, const SoundLineUp& lined);

/// The outline and onsets of a sound around a moment of it, in so many columns.
sheets::SoundAround soundAround (const HeardSound& heard, double moment, double seconds = 1, std::size_t columns = 120);

/// The line-up report of all sounds of the book that are not muted. Error: no sound; as lineUp.
Result<sheets::Sheet> lineUpReport (const OpenBook& open, const spotting::BookTimes& times, const sheets::SheetHead& head,
                                    const sheets::PictureAt& pictureAt, const Progress& progress = {});
} // namespace shutterbeat::desk
