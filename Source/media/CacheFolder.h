#pragma once

#include <cstdint>
#include <string>

namespace shutterbeat::media
{
/// Drops from a cache folder what was not asked for longest, while the files that end in `ending` take more than `most` bytes,
/// and files over an hour old whose names hold `leftover`: what an interrupted writer left. Never fails; what cannot be
/// removed stays.
void makeRoomIn (const std::string& folder, const std::string& ending, const std::string& leftover, std::uintmax_t most);
} // namespace shutterbeat::media
