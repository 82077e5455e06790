#pragma once

#include <cstdint>
#include <vector>

namespace shutterbeat::media
{
/// A picture for the eye: red, green, blue, one byte each, row after row from the top, no padding.
struct Picture
{
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> rgb; ///< 3 * width * height bytes
    bool damaged = false;          ///< could not be decoded whole; shows what there is, the last good picture, or black

    friend bool operator== (const Picture&, const Picture&) = default;
};
} // namespace shutterbeat::media
