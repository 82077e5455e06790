#pragma once

#include "media/Picture.h"
#include "time/Result.h"

#include <string>

namespace shutterbeat::media
{
/// The bytes of a picture as a baseline JPEG (ITU-T T.81, JFIF), colours at full size, at libav's quantiser 2, where nobody sees
/// a difference in print. Same picture, same bytes with one version of libav. Error usage: bytes that don't fit the size;
/// cannotWrite: no encoder here.
Result<std::string> jpegOf (const Picture& picture);
} // namespace shutterbeat::media
