#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace shutterbeat::film
{
/// A small grey picture as the algorithms see it: one byte a pixel, 0 black to 255 white, row after row from the top.
struct GreyPicture
{
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> pixels; ///< width * height bytes
    bool damaged = false;             ///< the decoder could not make this frame; pixels hold the last good one, or black

    /// The pixel in column x (0 to width - 1) of row y (0 to height - 1).
    [[nodiscard]] std::uint8_t at (int x, int y) const
    {
        return pixels[static_cast<std::size_t> (y) * static_cast<std::size_t> (width) + static_cast<std::size_t> (x)];
    }

    friend bool operator== (const GreyPicture&, const GreyPicture&) = default;
};
} // namespace shutterbeat::film
