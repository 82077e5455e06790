#pragma once

#include "film/GreyPicture.h"

#include <vector>

namespace shutterbeat::reading
{
/// A part of a card made ready for reading: dark letters on white, at the size at which letters are read best.
struct CardInk
{
    film::GreyPicture picture;
    bool darkOnLight = false; ///< so the card had them to begin with
    double letterHeight = 0;  ///< of the letters that there are most of, pixels of this picture; 0: no letters seen
};

/// A card's writing as light letters on a dark ground and as dark letters on a light sheet, the likelier first; one that
/// shows no letters at all is left out. Frames round the writing, rules and whatever touches the edge of the picture are
/// taken away. `size` is the size of the letters, of that at which most are read best.
std::vector<CardInk> inkOf (const film::GreyPicture& card, double size = 1);
} // namespace shutterbeat::reading
