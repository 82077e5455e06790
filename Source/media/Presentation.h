#pragma once

#include "media/FrameIndex.h"

#include <vector>

namespace shutterbeat::media
{
/// True for a packet whose picture the container means to be shown.
inline bool isShown (const IndexedPacket& packet)
{
    return ! packet.hidden && ! packet.secondField;
}

/// Whether every shown packet says when it is shown.
bool hasAllTimestamps (const FrameIndex& index);

/// Packet numbers in order of presentation, by timestamp. Where decoding time runs backwards (files joined end to end)
/// a new stretch begins, and nothing is sorted across it. Only when hasAllTimestamps().
std::vector<std::int64_t> orderByTimestamp (const FrameIndex& index);

/// Packet numbers in order of presentation, by picture type: a reference picture waits until the next one.
/// Right for codecs with that one rule (MPEG-1, MPEG-2, MPEG-4 part 2) and for those that never reorder.
std::vector<std::int64_t> orderByType (const FrameIndex& index);

/// Makes `order` the presented frames of the index, and works out how deep pictures are reordered.
void present (FrameIndex& index, const std::vector<std::int64_t>& order);

/// The presented frames that may hang on pictures in front of the file: those before the first key packet, in the file
/// or on screen. Empty for a file without any key packet.
std::vector<std::int64_t> doubtfulHead (const FrameIndex& index);
} // namespace shutterbeat::media
