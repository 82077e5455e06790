#pragma once

#include "overlay/ConductorMarks.h"
#include "overlay/Patch.h"

#include <optional>
#include <vector>

namespace shutterbeat::overlay
{
/// Draws the marks for the conductor over the picture. A streamer is an upright line with a wedge at either end that
/// crosses the picture from left to right and stands at its right edge on the hit; a punch is a disc in the middle, of at
/// most a twelfth of the picture; a flash lightens the whole picture. One thread at a time.
class MarkPaint
{
public:
    /// `picture`: where it lies. `dye`: of streamers, free to choose.
    explicit MarkPaint (const Box& picture, const Dye& dye = lamplight);

    [[nodiscard]] std::vector<Patch> draw (const std::vector<ShownMark>& marks);
    /// The disc of a punch; also the picture of a pop.
    [[nodiscard]] Patch disc();

private:
    Patch streamer (const ShownMark& mark);

    Box picture;
    Dye dye;
    std::optional<Patch> punch, flash;
    std::vector<std::optional<Patch>> lines; ///< by weight, at x = 0
};
} // namespace shutterbeat::overlay
