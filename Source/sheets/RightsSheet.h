#pragma once

#include "sheets/Sheet.h"
#include "spotting/Rights.h"

namespace shutterbeat::sheets
{
/// The rights cue sheet for a collecting society: production block; every use of a work with in, out, usage and duration in whole
/// seconds; the total of the printed rows, the exact total small beside it; the works with writers, publishers, roles, IPI,
/// societies and exact shares; and what is still to be settled. Error: Cairo could not write.
Result<Sheet> rightsSheet (const spotting::Book& book, const spotting::BookTimes& times, const SheetHead& head);
} // namespace shutterbeat::sheets
