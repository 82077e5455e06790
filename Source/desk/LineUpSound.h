#pragma once

#include "desk/Progress.h"
#include "lineup/Onsets.h"
#include "lineup/Pop.h"
#include "lineup/Tuning.h"
#include "media/SoundPeaks.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// What a line-up hears of a sound, all in seconds from its sample 0.
struct HeardSound
{
    double from = 0, to = 0; ///< the part that was listened to; the whole sound unless it is longer than half an hour
    double length = 0;       ///< of the whole sound
    std::vector<lineup::Onset> sharp, slow;
    lineup::Tuning tuning;
    std::vector<lineup::Pop> pops;
    lineup::Sounding sounding;
    media::SoundPeaks peaks;   ///< outline of the part listened to, for drawing; its sample 0 lies at `from`
    double peakRate = 48000;   ///< samples a second of `peaks`
    std::vector<int> timecode; ///< channels (from 1) that carry linear timecode and were not listened to
    std::int64_t damaged = 0;  ///< samples that could not be decoded and count as silence
};

/// Reads a sound (all channels that carry no linear timecode mixed to one) and finds its onsets. Of a sound longer than half an
/// hour only the part from `near` to `end` is listened to, half an hour at most. Error: as media::SoundReader::open, cancelled.
Result<HeardSound> hearSound (const std::string& path, double near, double end, const Progress& progress = {});
} // namespace shutterbeat::desk
