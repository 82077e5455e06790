#pragma once

#include "exchange/Written.h"
#include "spotting/Times.h"

namespace shutterbeat::exchange
{
/// Cues and their hits as plain text (UTF-8), to be read as it is or pasted into a letter: each cue with its in, out, length,
/// tempo, mood and note, below it a line a hit with its timecode ("frame 123" at a rate without), delivered frame, clock from the
/// cue's in, weight, kind and name. Hits of no cue follow, then those that are lost, with the reason.
Written writeTextList (const spotting::BookTimes& times, const ListHead& head);
} // namespace shutterbeat::exchange
