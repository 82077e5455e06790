#pragma once

#include "exchange/CsvTable.h"
#include "exchange/Written.h"
#include "spotting/Times.h"

namespace shutterbeat::exchange
{
/// What a list of timed texts holds.
enum class TimedWhat
{
    cards, ///< wordings, from the head of each card to its end
    hits   ///< kind, weight and label of each hit, from its delivered frame for a second or until the next one that is later
};

/// WebVTT (W3C; handbook 7.5), one file a reel, times from picture start to the millisecond. Ids are those of shots and hits.
/// What lies before picture start stands at zero, and that is said; what lies after its end keeps its time.
Written writeWebVtt (const spotting::BookTimes& times, const ListHead& head, TimedWhat what);
/// SubRip (handbook 7.5; no official specification), likewise; numbered from 1, decimal commas.
Written writeSrt (const spotting::BookTimes& times, const ListHead& head, TimedWhat what);

/// A text that stands for a while.
struct TimedText
{
    std::int64_t line = 1; ///< of its times
    std::string id;
    time::Rational start, end; ///< exact seconds
    std::string text;          ///< lines apart by \n; marks such as <i> taken off
};

struct TimedTexts
{
    std::vector<TimedText> texts; ///< in the file's order
    std::vector<BadLine> bad;
};

/// Reads WebVTT and SubRip alike: hours or none, comma or point, settings after the times, notes and styles passed over, any
/// line ends. Bad lines are named, the others kept. Error: no text in it at all.
Result<TimedTexts> readTimedTexts (std::string_view bytes);
} // namespace shutterbeat::exchange
