#pragma once

#include <array>
#include <cstdint>
#include <vector>

namespace shutterbeat::film
{
/// How many pixels have each of the levels 0 to 255.
std::array<int, 256> levelCounts (const std::vector<std::uint8_t>& pixels);

/// The level round which (within 4) most pixels lie: the ground that writing stands on.
int groundLevel (const std::array<int, 256>& counts);

/// The lowest level that at least `share` (0 to 1) of all pixels do not exceed; 0 when there are no pixels.
int levelAt (const std::array<int, 256>& counts, double share);
} // namespace shutterbeat::film
