#pragma once

#include "film/GreyPicture.h"

#include <cstdint>
#include <string>

namespace shutterbeat::tests
{
/// How a card is drawn.
struct CardLook
{
    std::string font = "EB Garamond 30";
    int width = 640, height = 480;
    double ink = 0.93, ground = 0.05; ///< 0 black to 1 white
    double sheet = 1;                 ///< of the width: a sheet of the ground's brightness, black beside it
    bool frame = false;               ///< a double line round the writing
    double x = 0, y = 0;              ///< moved by, pixels
};

/// A card with centred writing.
film::GreyPicture drawnCard (const std::string& wording, const CardLook& look = {});

/// Grain, specks, a scratch and another brightness; the same for the same seed.
void wearCard (film::GreyPicture& card, double grain, std::uint64_t seed);
} // namespace shutterbeat::tests
