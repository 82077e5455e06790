#include "scan/BlockPicture.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::scan
{
template <int W, int H, int S>
BlockPicture<W, H, S>::BlockPicture (const std::uint8_t* grey)
{
    for (std::size_t i = 0; i < pixels.size(); ++i)
        pixels[i] = grey[i];

    // Sums over every 8 x 8 window: first along the rows, then down the columns.
    std::array<std::int32_t, static_cast<std::size_t> (W * H)> rowSum{};
    std::array<std::int32_t, static_cast<std::size_t> (W * H)> rowSquare{};
    for (int y = 0; y < H; ++y)
    {
        const std::int16_t* line = pixels.data() + y * W;
        for (int x = 0; x + 8 <= W; ++x)
        {
            std::int32_t sum = 0;
            std::int32_t square = 0;
            for (int i = 0; i < 8; ++i)
            {
                sum += line[x + i];
                square += line[x + i] * line[x + i];
            }
            rowSum[static_cast<std::size_t> (y * W + x)] = sum;
            rowSquare[static_cast<std::size_t> (y * W + x)] = square;
        }
    }
    std::size_t shift = 0;
    for (int dy = -S; dy <= S; ++dy)
        for (int dx = -S; dx <= S; ++dx, ++shift)
            for (int by = 0; by < rows; ++by)
                for (int bx = 0; bx < columns; ++bx)
                {
                    std::int32_t sum = 0;
                    std::int32_t square = 0;
                    for (int i = 0; i < 8; ++i)
                    {
                        const auto at = static_cast<std::size_t> ((top + by * 8 + dy + i) * W + left + bx * 8 + dx);
                        sum += rowSum[at];
                        square += rowSquare[at];
                    }
                    const auto block = static_cast<std::size_t> (by * columns + bx);
                    const float variance =
                        (static_cast<float> (square) - static_cast<float> (sum) * static_cast<float> (sum) / 64.0F) / 64.0F;
                    sums[shift][block] = static_cast<float> (sum);
                    scales[shift][block] = 1.0F / (8.0F * std::sqrt (std::max (variance, 1.0F)));
                    if (dx == 0 && dy == 0)
                        variances[block] = std::max (variance, 0.0F);
                }
}

template <int W, int H, int S>
typename BlockPicture<W, H, S>::PerBlock BlockPicture<W, H, S>::distance (const BlockPicture& a, const BlockPicture& b)
{
    constexpr int width = columns * 8;
    constexpr std::size_t unshifted = static_cast<std::size_t> (shifts / 2);
    PerBlock best;
    best.fill (-1.0F);
    std::size_t shift = 0;
    for (int dy = -S; dy <= S; ++dy)
        for (int dx = -S; dx <= S; ++dx, ++shift)
            for (int by = 0; by < rows; ++by)
            {
                std::array<std::int32_t, static_cast<std::size_t> (width)> products{};
                for (int i = 0; i < 8; ++i)
                {
                    const std::int16_t* lineA = a.pixels.data() + (top + by * 8 + i) * W + left;
                    const std::int16_t* lineB = b.pixels.data() + (top + by * 8 + i + dy) * W + left + dx;
                    for (int x = 0; x < width; ++x)
                        products[static_cast<std::size_t> (x)] += lineA[x] * lineB[x];
                }
                for (int bx = 0; bx < columns; ++bx)
                {
                    std::int32_t product = 0;
                    for (int i = 0; i < 8; ++i)
                        product += products[static_cast<std::size_t> (bx * 8 + i)];
                    const auto block = static_cast<std::size_t> (by * columns + bx);
                    const float covariance = static_cast<float> (product) - a.sums[unshifted][block] * b.sums[shift][block] / 64.0F;
                    best[block] = std::max (best[block], covariance * a.scales[unshifted][block] * b.scales[shift][block]);
                }
            }
    for (float& value : best)
        value = 1.0F - std::min (value, 1.0F);
    return best;
}

template class BlockPicture<32, 24, 2>;
template class BlockPicture<64, 48, 3>;
} // namespace shutterbeat::scan
