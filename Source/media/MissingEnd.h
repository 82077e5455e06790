#pragma once

#include "media/FrameIndex.h"
#include "media/PictureStream.h"
#include "time/Result.h"

#include <optional>
#include <string>

namespace shutterbeat::media
{
/// What proves that the end of a film is missing: a table (MOV, MP4) that lists pictures beyond the last byte, or a
/// container (MKV, AVI) that states more bytes than the file has. Nothing when there is no such proof. The film must
/// have been read through.
std::optional<Error> missingEnd (const PictureStream& film);

/// What only hints at it: a stated length that was not reached, or a read that failed. Empty when all seems well.
std::string doubtfulEnd (const PictureStream& film);
} // namespace shutterbeat::media
