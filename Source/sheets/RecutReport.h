#pragma once

#include "sheets/Sheet.h"
#include "spotting/Carry.h"
#include "spotting/RecutRows.h"
#include "spotting/Remedies.h"

#include <vector>

namespace shutterbeat::sheets
{
/// From one edition to the next: every shot that changed with its pictures then and now, what became of hits and cues, what may be
/// done about each change inside a cue, and what a person has to look at. `times` are the new edition's; `then` and `now` give
/// pictures of the old and the new one.
Result<Sheet> recutReport (const spotting::BookTimes& times, const film::Timings& before, const SheetHead& head,
                           const spotting::Carried& carried, const std::vector<spotting::RecutRow>& rows,
                           const std::vector<spotting::InsideRemedies>& remedies, const PictureAt& then, const PictureAt& now);
} // namespace shutterbeat::sheets
