#pragma once

#include "exchange/Written.h"
#include "spotting/RecutRows.h"
#include "spotting/Times.h"

#include <vector>

namespace shutterbeat::exchange
{
/// CMX3600 lists (handbook 7.1) of the delivered picture: one cut event a shot, reel AX, channel V, source and record
/// both in the delivered picture's own timecode, since the delivered movie is what is laid in. One text a reel of the
/// edition, and one more after every 999 events, each numbered from 001. FCM is written from the actual count.
/// Below the event it falls in, each hit is a plain comment `* HIT timecode weight kind text` and each cue
/// `* CUE timecode timecode number title` (in, out exclusive, below the event of its in). Kind and number are one word
/// each, blanks written as hyphens ("music-seen"). What lies outside the picture stands below the first or last event.
/// Lost hits and cues are `* LOST ...` at the end. UTF-8, CRLF; line breaks and | in text become blanks and /, and that
/// is said in the notes, as are labels that pass midnight.
/// `changes`, where given, are those from the edition before to this one: below each shot that changed stands
/// `* CHANGE moved, head -12, was film frame 60, 72 film frames`, below the shot it followed `* CHANGE cut out NAME ...`.
/// Error: a final rate without timecode.
Result<Written> writeCmxList (const spotting::BookTimes& times, const ListHead& head,
                              const std::vector<spotting::RecutRow>& changes = {});
} // namespace shutterbeat::exchange
