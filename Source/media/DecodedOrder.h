#pragma once

#include "media/FrameIndex.h"
#include "media/PictureStream.h"
#include "time/Result.h"

#include <vector>

namespace shutterbeat::media
{
/// The packets in the order in which decoding from the start shows their pictures; those that come to nothing are left
/// out. Stops when the picture of `last` has come out (-1: reads everything). The stream must be at its first packet.
Result<std::vector<std::int64_t>> orderByDecoding (PictureStream& film, int reorder, std::int64_t last = -1);
} // namespace shutterbeat::media
