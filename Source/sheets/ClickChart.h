#pragma once

#include "sheets/Sheet.h"

namespace shutterbeat::sheets
{
/// The click chart for players and conductor: per cue its tempo as beats a minute and as frame click (counted at 24, or at 25
/// when the final rate is 25 or 50), free clicks, then every bar with number, beats, meter and tempo where they change, clock
/// at its start, and the hits over the beat they strike on (lead and all). Figures to be read on a stand.
/// A cue without a tempo is named and left out. Error: Cairo could not write.
Result<Sheet> clickChart (const spotting::BookTimes& times, const SheetHead& head);

/// "click 15-0 (at 24)" for the tempo of a cue: its beat in frames and eighths.
std::string frameClickText (const spotting::Cue& cue, const time::Rate& rate);
} // namespace shutterbeat::sheets
