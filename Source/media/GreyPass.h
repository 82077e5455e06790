#pragma once

#include "film/GreyPicture.h"
#include "time/Result.h"

#include <cstdint>
#include <functional>
#include <string>

namespace shutterbeat::media
{
/// Decodes a whole film once, in order, and hands on each file frame as a grey picture of width x height, on the calling
/// thread, while others decode as many parts of the film at once as there are cores. Every frame of openFilm comes exactly
/// once and as FrameReader shows it: one that can't be decoded as the last good one (or black), marked as damaged. When `each`
/// answers false the pass ends with ErrorCode::cancelled. Error otherwise: as openFilm; usage for an impossible size.
Result<Done> forEachGrey (const std::string& path, int width, int height,
                          const std::function<bool (std::int64_t frame, const film::GreyPicture& picture)>& each);
} // namespace shutterbeat::media
