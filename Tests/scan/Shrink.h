#pragma once

#include "film/GreyPicture.h"

#include <algorithm>

namespace shutterbeat::tests
{
/// The picture brought to width x height, each pixel the mean of those it covers.
inline film::GreyPicture shrunk (const film::GreyPicture& picture, int width, int height)
{
    film::GreyPicture small;
    small.width = width;
    small.height = height;
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
        {
            const int top = y * picture.height / height;
            const int left = x * picture.width / width;
            const int bottom = std::max (top + 1, (y + 1) * picture.height / height);
            const int right = std::max (left + 1, (x + 1) * picture.width / width);
            int sum = 0;
            for (int v = top; v < bottom; ++v)
                for (int u = left; u < right; ++u)
                    sum += picture.at (u, v);
            small.pixels.push_back (static_cast<std::uint8_t> (sum / ((bottom - top) * (right - left))));
        }
    return small;
}
} // namespace shutterbeat::tests
