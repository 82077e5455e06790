#pragma once

#include <cstdint>
#include <memory>
#include <vector>

namespace shutterbeat::overlay
{
/// A rectangle of whole pixels of the screen or movie that is drawn over.
struct Box
{
    int x = 0, y = 0, width = 0, height = 0;

    [[nodiscard]] int right() const { return x + width; }
    [[nodiscard]] int bottom() const { return y + height; }
    friend bool operator== (const Box&, const Box&) = default;
};

/// A piece of overlay: pixels to lay over what is there, rows from the top without gaps. Position and size are even, so
/// that it falls on whole pixels of halved colour planes too. Copies share their pixels.
struct Patch
{
    Box box;
    /// 0xAARRGGBB, colours multiplied by alpha (Cairo's ARGB32); box.width * box.height of them.
    std::shared_ptr<const std::vector<std::uint32_t>> pixels;
};

/// A colour for the eye, each part 0 to 1.
struct Dye
{
    double red = 0, green = 0, blue = 0;

    friend bool operator== (const Dye&, const Dye&) = default;
};

// The dyes of the dim room.
inline constexpr Dye ground{ 0x14 / 255.0, 0x11 / 255.0, 0x0F / 255.0 };
inline constexpr Dye ivory{ 0xEF / 255.0, 0xE6 / 255.0, 0xD8 / 255.0 };
inline constexpr Dye quiet{ 0xB5 / 255.0, 0xA9 / 255.0, 0x9A / 255.0 };
inline constexpr Dye lamplight{ 0xE0 / 255.0, 0xA3 / 255.0, 0x3A / 255.0 };
inline constexpr Dye night{ 0x6F / 255.0, 0xA3 / 255.0, 0xC8 / 255.0 };

/// 0xRRGGBB of a dye.
constexpr std::uint32_t rgbOf (const Dye& dye)
{
    const auto part = [] (double value) { return static_cast<std::uint32_t> (value * 255 + 0.5); };
    return part (dye.red) << 16 | part (dye.green) << 8 | part (dye.blue);
}
} // namespace shutterbeat::overlay
