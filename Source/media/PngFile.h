#pragma once

#include "media/Picture.h"
#include "time/Result.h"

#include <string>

namespace shutterbeat::media
{
/// Writes a picture as a PNG file, whole or not at all: a temporary file in the same folder is renamed at the end.
/// Error cannotWrite, where = path. Error usage: a picture whose bytes don't fit its size.
Result<Done> writePng (const std::string& path, const Picture& picture);
} // namespace shutterbeat::media
