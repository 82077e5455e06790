#pragma once

#include <array>
#include <cstdint>

namespace shutterbeat::scan
{
/// A small grey picture of W x H pixels cut into blocks of 8 x 8 for comparison with others under shifts of up to
/// S pixels each way. The sums that every comparison needs are made once.
template <int W, int H, int S>
class BlockPicture
{
public:
    static constexpr int columns = (W - 2 * S) / 8;
    static constexpr int rows = (H - 2 * S) / 8;
    static constexpr int blocks = columns * rows;
    using PerBlock = std::array<float, static_cast<std::size_t> (blocks)>;

    BlockPicture() = default;
    /// From W * H bytes, row after row.
    explicit BlockPicture (const std::uint8_t* grey);

    /// Variance of each unshifted block, in grey levels squared: how much there is to compare.
    [[nodiscard]] const PerBlock& variance() const { return variances; }

    /// W * H grey levels.
    [[nodiscard]] const std::array<std::int16_t, static_cast<std::size_t> (W* H)>& grey() const { return pixels; }

    /// Per block 1 - the best normalised cross-correlation over all shifts of `b`: 0 the same, about 1 nothing in common.
    /// Variances below one grey level squared count as one, else flat blocks correlate by chance.
    static PerBlock distance (const BlockPicture& a, const BlockPicture& b);

private:
    static constexpr int left = (W - columns * 8) / 2;
    static constexpr int top = (H - rows * 8) / 2;
    static constexpr int shifts = (2 * S + 1) * (2 * S + 1);
    static constexpr std::size_t blockCount = static_cast<std::size_t> (blocks);

    std::array<std::int16_t, static_cast<std::size_t> (W* H)> pixels{};
    std::array<std::array<float, blockCount>, static_cast<std::size_t> (shifts)> sums{};
    std::array<std::array<float, blockCount>, static_cast<std::size_t> (shifts)> scales{};
    PerBlock variances{};
};

using CoarsePicture = BlockPicture<32, 24, 2>; ///< for every picture
using FinePicture = BlockPicture<64, 48, 3>;   ///< where the coarse one sees a change
} // namespace shutterbeat::scan
