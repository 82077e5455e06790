#pragma once

#include "film/GreyPicture.h"
#include "media/FrameReader.h"
#include "time/Result.h"

#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

namespace shutterbeat::media
{
/// Reads a film in pieces, one thread for each reader, and hands the pictures on in order, on the calling thread.
/// pieces: rising frame numbers from 0 to the film's length; piece i goes up to where piece i + 1 begins. No more than a
/// few hundred pictures wait for their turn. Error: the first in order of the film; cancelled when `each` answers false.
Result<Done> readInLanes (std::vector<std::unique_ptr<FrameReader>>& readers, const std::vector<std::int64_t>& pieces, int width,
                          int height, const std::function<bool (std::int64_t, const film::GreyPicture&)>& each);
} // namespace shutterbeat::media
