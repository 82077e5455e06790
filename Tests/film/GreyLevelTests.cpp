#include "Catch.h"

#include "film/GreyLevels.h"

#include <numeric>

using namespace shutterbeat;

TEST_CASE ("levels are counted to the last pixel, the ground is where most lie, shares count from below")
{
    const std::vector<std::uint8_t> odd{ 10, 10, 12, 200, 255 };
    const auto counts = film::levelCounts (odd);
    CHECK (std::accumulate (counts.begin(), counts.end(), 0) == 5);
    CHECK (counts[255] == 1);
    CHECK (film::groundLevel (counts) >= 8);
    CHECK (film::groundLevel (counts) <= 14);
    CHECK (film::levelAt (counts, 0.5) == 12);
    CHECK (film::levelAt (counts, 0.8) == 200);
    CHECK (film::levelAt (counts, 1) == 255);
    CHECK (film::levelAt (film::levelCounts ({}), 0.5) == 0);
}
