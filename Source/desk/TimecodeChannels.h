#pragma once

#include "media/SoundReader.h"

#include <vector>

namespace shutterbeat::desk
{
/// Channels (from 0) of a sound of two or more that carry linear timecode and no music: ten labels on end within the first
/// twenty seconds, whatever their rate. Never all of them. Error: as SoundReader::read.
Result<std::vector<int>> timecodeChannels (media::SoundReader& reader);
} // namespace shutterbeat::desk
