#pragma once

#include <cairo.h>

#include <cstdint>
#include <string>
#include <vector>

namespace shutterbeat::sheets
{
/// A picture for a sheet, as it is to be seen: square pixels, upright. Rows from the top without gaps.
struct SheetPicture
{
    int width = 0, height = 0;
    bool grey = false;               ///< one byte a pixel, else three: red, green, blue
    std::vector<std::uint8_t> bytes; ///< width * height * (grey ? 1 : 3)
    std::string jpeg = {};           ///< the same as a JPEG, which a PDF takes as it is and small; empty: it gets the bytes

    /// Has a size and as many bytes as it needs.
    [[nodiscard]] bool whole() const;
};

/// The picture averaged down to at most so many pixels, its shape kept; a smaller one is returned as it is.
SheetPicture smaller (const SheetPicture& picture, int maxWidth, int maxHeight);

/// Draws the picture into a rectangle of points, which should have its shape.
void drawPicture (cairo_t* cairo, const SheetPicture& picture, double x, double y, double width, double height);
} // namespace shutterbeat::sheets
