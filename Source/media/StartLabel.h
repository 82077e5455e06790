#pragma once

#include "media/PictureStream.h"
#include "time/Rate.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::media
{
/// The timecode of a file's first picture.
struct StartLabel
{
    std::string text;       ///< empty: the file has none
    time::Rate rate;        ///< what it counts in
    std::int64_t frame = 0; ///< as pictures of the file after 00:00:00:00
    std::vector<std::string> warnings;
};

/// What a QuickTime timecode track says about how it counts (QuickTime file format, timecode sample description).
struct TimecodeTrack
{
    std::uint32_t count = 0; ///< of the first sample
    std::uint32_t flags = 0; ///< bit 0: drop-frame
    std::uint32_t timescale = 0;
    std::uint32_t duration = 0;
    unsigned perSecond = 0; ///< labels a second
};

/// The label of a timecode track. A drop flag where there is no drop-frame is left out of account, and said.
StartLabel labelOfTrack (const TimecodeTrack& track, const time::Rational& pictureRate);

/// The label written as text in a file's tags, counted at the picture's rate.
StartLabel labelOfTag (const std::string& tag, const time::Rational& pictureRate);

/// Reads the start timecode of an open file: the timecode track itself, else the tags of picture, other tracks or file.
StartLabel startLabelOf (const PictureStream& film, const time::Rational& pictureRate);
} // namespace shutterbeat::media
