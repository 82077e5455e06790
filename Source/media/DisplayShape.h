#pragma once

#include "media/Libav.h"

#include <string>
#include <vector>

namespace shutterbeat::media
{
/// The size and turn in which a stored picture is to be looked at.
struct DisplayShape
{
    int width = 0;
    int height = 0;
    int rotation = 0; ///< degrees clockwise: 0, 90, 180, 270
    std::vector<std::string> warnings;
};

/// A stored size with a pixel shape (width to height; zero or invalid: square), turned: the width is stretched to whole
/// even pixels, the height stays; at 90 and 270 they change places.
DisplayShape displayShape (int storedWidth, int storedHeight, const time::Rational& pixelShape, int rotation);

/// The same for a track of an open file, from its pixel shape and display matrix.
DisplayShape displayShapeOf (AVFormatContext& format, AVStream& stream);
} // namespace shutterbeat::media
