#pragma once

#include "desk/Progress.h"
#include "film/Timings.h"
#include "media/SoundReader.h"

#include <optional>
#include <string>

namespace shutterbeat::desk
{
/// Where sample 0 of a sound lies by something in the sound itself.
struct SoundEvidence
{
    time::Rational seconds; ///< from picture start of the reel
    std::string said;       ///< a sentence for the user
};

/// By linear timecode on a channel (from 1), looked for in the first `most` seconds (none: all of it). Ten labels on end have to
/// agree. Error usage: no such channel, no timecode there or at this rate; unreadable; cancelled.
Result<SoundEvidence> placeByLtc (media::SoundReader& reader, int channel, const film::Timings& timings, std::size_t reel,
                                  std::optional<int> most = {}, const Progress& progress = {});

/// By a sync pop: about a frame of 1 kHz with silence on either side, in the first 70 seconds. It belongs two seconds before
/// picture start, counted as delivered frames are (WORKED G). Error usage: none there; unreadable.
Result<SoundEvidence> placeByPop (media::SoundReader& reader, const film::Timings& timings);
} // namespace shutterbeat::desk
