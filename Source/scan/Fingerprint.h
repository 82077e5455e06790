#pragma once

#include "film/GreyPicture.h"
#include "time/Result.h"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace shutterbeat::scan
{
/// A picture so small and so levelled that it outlasts cleaning, regrading, flicker, dirt, weave and re-encoding, yet still a
/// picture: another crop of it can be laid over it (see Registration), and neighbouring frames differ where anything moves.
struct Fingerprint
{
    static constexpr int width = 24;
    static constexpr int height = 18;
    static constexpr std::size_t size = 432; ///< cells

    /// Each cell of the inner 88 % of the picture: its level less the mean of the cells round it, over their deviation (+ 4 grey
    /// levels), times 32, within -127 to 127. Rows from the top. -128: none, outside a print that was laid over another.
    std::array<std::int8_t, size> cells{};
    /// What that levelling takes away: the deviation of the cells' grey levels over the whole picture, in half levels; up to 255.
    std::uint8_t contrast = 0;

    friend bool operator== (const Fingerprint&, const Fingerprint&) = default;
};

/// Of a picture of at least 48 x 36 pixels (smaller ones give a flat fingerprint).
Fingerprint fingerprintOf (const film::GreyPicture& picture);

/// 1 - the normalised cross-correlation: 0 the same picture, about 1 nothing in common, 2 its negative. 1 where either is flat.
float distance (const Fingerprint& a, const Fingerprint& b);

/// The distance once a small shift of the whole picture (weave, jitter: up to half a cell, 1/27 of the width) is taken out, and
/// that shift.
struct SteadyDistance
{
    float distance = 1;
    float dx = 0, dy = 0; ///< cells by which b's picture must be moved left and up to lie on a's
};
SteadyDistance steadyDistance (const Fingerprint& a, const Fingerprint& b);

/// How much there is to compare: root mean square of the cells, 0 (black, white, flat) to about 40.
float textureOf (const Fingerprint& fingerprint);

/// The picture seen from behind: left and right exchanged.
Fingerprint mirrored (const Fingerprint& fingerprint);

/// Where the cells of one print lie in another that was cropped, scaled or set otherwise: column x of the first lies at
/// column x * scaleX + shiftX of the second, rows likewise. Cells are counted from the middle of the picture.
struct Registration
{
    double scaleX = 1, shiftX = 0;
    double scaleY = 1, shiftY = 0;

    friend bool operator== (const Registration&, const Registration&) = default;
};

/// The second print's fingerprint as the first print would show it: laid over the first by `registration`. Cells it does not
/// have are none.
Fingerprint registered (const Fingerprint& second, const Registration& registration);

/// The registration under which pairs (of the first print, of the second) agree best, from pairs that are mostly right and
/// differ by up to a tenth in size and a cell or two in place. Nothing: fewer than eight pairs with texture, or no such.
std::optional<Registration> registrationOf (const std::vector<std::pair<Fingerprint, Fingerprint>>& pairs);

/// One after another, each its cells and its contrast, a byte each.
std::string fingerprintBytes (const std::vector<Fingerprint>& fingerprints);
/// Error: not a whole number of fingerprints.
Result<std::vector<Fingerprint>> fingerprintsFrom (std::string_view bytes);
} // namespace shutterbeat::scan
