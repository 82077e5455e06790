#pragma once

#include "exchange/Written.h"
#include "spotting/Times.h"

namespace shutterbeat::exchange
{
/// OpenTimelineIO timelines (schemas Timeline.1, Stack.1, Track.1, Clip.2, Marker.2; handbook 7.7), one a reel of the edition.
/// Frames are delivered frames at the final rate; global_start_time is the label count of picture start. One video track of
/// clips, one a shot, whose media is the delivered picture itself in its own timecode. On the stack of tracks a marker a hit
/// (duration 0) and a cue (from in to out), all from the first frame of the reel; what lies before it is below zero, which
/// the format can hold. What else a hit or cue is stands in its metadata under "shutterbeat"; lost ones in the timeline's.
/// Error: an edition without delivered frames.
Result<Written> writeOtio (const spotting::BookTimes& times, const ListHead& head);
} // namespace shutterbeat::exchange
