#pragma once

#include "film/GreyPicture.h"

#include <vector>

namespace shutterbeat::reading
{
/// How crisp a picture is: mean square step between neighbouring pixels over their variance. Only comparable between pictures of
/// one card.
double sharpnessOf (const film::GreyPicture& picture);

/// One still of pictures that all show the same card: the sharpest of them (at most `most`), laid over one another where
/// the print weaves, their brightness made alike, and of each pixel the middle one taken, so that dirt, scratches and grain
/// go. Damaged pictures are left out unless there are no others. Empty when there is none, or when sizes differ.
film::GreyPicture stillOf (const std::vector<film::GreyPicture>& pictures, std::size_t most = 9);
} // namespace shutterbeat::reading
