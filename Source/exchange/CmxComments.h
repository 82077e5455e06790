#pragma once

#include "exchange/CsvTable.h"
#include "spotting/Cue.h"
#include "spotting/Hit.h"
#include "time/Rate.h"

namespace shutterbeat::exchange
{
/// A hit as a comment of a CMX3600 list has it.
struct CmxHit
{
    std::int64_t line = 1;
    std::int64_t count = 0; ///< frames from 00:00:00:00 to its label
    std::string timecode;
    spotting::Weight weight = spotting::Weight::should;
    spotting::HitKind kind = spotting::HitKind::action;
    std::string text;
};

struct CmxCue
{
    std::int64_t line = 1;
    std::int64_t in = 0, out = 0; ///< frames from 00:00:00:00 to the labels; out may be the smaller one past midnight
    std::string number, title;
};

/// The comments that writeCmxList writes, and the lines that look like one but can't be read.
struct CmxComments
{
    std::vector<CmxHit> hits;
    std::vector<CmxCue> cues;
    std::vector<BadLine> bad;
    std::vector<std::string> warnings; ///< an FCM line that does not fit the rate
};

/// Reads `* HIT` and `* CUE` comments; all other lines are passed over. Takes any line ends, a byte order mark, UTF-8
/// else Latin-1, and any case of the first word. The list itself does not say its rate: `rate` does.
/// Error: a rate without timecode.
Result<CmxComments> readCmxComments (std::string_view bytes, const time::Rate& rate);
} // namespace shutterbeat::exchange
