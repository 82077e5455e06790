#pragma once

#include "media/PictureStream.h"

#include <string>

namespace shutterbeat::media
{
/// The name of the reel or tape a file was made from, as its timecode track (MOV), source package (MXF) or tags have it;
/// empty when there is none.
std::string reelNameOf (const PictureStream& film);
} // namespace shutterbeat::media
