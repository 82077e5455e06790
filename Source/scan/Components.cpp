#include "scan/Components.h"

#include <algorithm>
#include <array>

namespace shutterbeat::scan
{
Components componentsOf (const std::vector<std::uint8_t>& marked, int w, int h)
{
    // A border of nothing all round saves asking for the edges at every pixel.
    const int stride = w + 2;
    std::vector<std::uint8_t> open (static_cast<std::size_t> (stride * (h + 2)));
    for (int y = 0; y < h; ++y)
        std::copy_n (marked.begin() + static_cast<std::ptrdiff_t> (y) * w, w,
                     open.begin() + static_cast<std::ptrdiff_t> (y + 1) * stride + 1);
    const std::array<int, 8> neighbours{ -stride - 1, -stride, -stride + 1, -1, 1, stride - 1, stride, stride + 1 };
    Components found;
    std::vector<int>& pixels = found.pixels;
    for (int start = stride; start < stride * (h + 1); ++start)
    {
        if (open[static_cast<std::size_t> (start)] == 0)
            continue;
        Component piece{ w, h, 0, 0, pixels.size(), 0 };
        pixels.push_back (start);
        open[static_cast<std::size_t> (start)] = 0;
        for (std::size_t next = piece.from; next < pixels.size(); ++next)
        {
            const int at = pixels[next];
            const int y = at / stride - 1;
            const int x = at - (y + 1) * stride - 1;
            piece.left = std::min (piece.left, x);
            piece.right = std::max (piece.right, x + 1);
            piece.top = std::min (piece.top, y);
            piece.bottom = std::max (piece.bottom, y + 1);
            for (const int step : neighbours)
                if (auto& cell = open[static_cast<std::size_t> (at + step)]; cell != 0)
                {
                    cell = 0;
                    pixels.push_back (at + step);
                }
            pixels[next] = y * w + x;
        }
        piece.to = pixels.size();
        found.pieces.push_back (piece);
    }
    return found;
}
} // namespace shutterbeat::scan
