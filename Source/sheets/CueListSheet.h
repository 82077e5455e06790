#pragma once

#include "sheets/Sheet.h"
#include "spotting/Book.h"

namespace shutterbeat::sheets
{
/// The cue list for everybody: every cue with number, title, works, in, out, length, kind, status, version, and the totals: minutes
/// of music (the sum of the printed lengths) and of silence. Error: Cairo could not write.
Result<Sheet> cueListSheet (const spotting::Book& book, const spotting::BookTimes& times, const SheetHead& head);

/// Hundredths of a second as the cue list prints and sums them.
struct CueTotals
{
    std::int64_t music = 0;   ///< hundredths: the sum of the printed lengths of music and seen music
    std::int64_t silence = 0; ///< of the reels less what music covers, overlaps counted once
    std::size_t pieces = 0;   ///< cues that are music or seen music
};
CueTotals cueTotals (const spotting::BookTimes& times);
} // namespace shutterbeat::sheets
