#pragma once

#include "scan/Fingerprint.h"

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

namespace shutterbeat::scan
{
/// How the new print's pictures lie over the old one's.
struct Laying
{
    Registration registration;
    bool mirrored = false;
};

/// A fingerprint laid over another print; cells outside it are 0, so that they add nothing to a product.
struct LaidPrint
{
    std::array<std::int8_t, Fingerprint::size> cells{};
    float norm = 0;    ///< root of the sum of squares
    float texture = 0; ///< root mean square, as textureOf
};

/// Lays fingerprints of one print over another: the same as registered(), after mirrored() where asked, but quick enough for
/// every frame of a film.
class Layer
{
public:
    explicit Layer (const Laying& laying);

    void lay (const Fingerprint& from, LaidPrint& to) const;
    /// Root of the sum of squares of those cells of an old fingerprint that the new print has too.
    [[nodiscard]] float oldNorm (const Fingerprint& old) const;

private:
    struct Taps
    {
        std::array<std::uint8_t, 4> from{};
        std::array<float, 4> weight{};
        bool inside = false;
    };
    bool plain = false; ///< nothing to move
    bool turned = false;
    std::array<Taps, Fingerprint::width> columns{};
    std::array<Taps, Fingerprint::height> rows{};
    std::array<std::int8_t, Fingerprint::size> mask{}; ///< -1 where both have a cell, else 0
};

/// A laid fingerprint with its slopes, so that a little weave can be taken out of a distance.
struct SlopedPrint
{
    LaidPrint laid;
    std::array<std::int8_t, Fingerprint::size> across{}; ///< half the step from the cell on the left to that on the right
    std::array<std::int8_t, Fingerprint::size> down{};
    std::array<std::array<float, 3>, 3> normal{}; ///< products of cells, across and down, damped: large shifts are unlikely
};
void addSlopes (SlopedPrint& print);

/// laidDistance once the small shift of the whole picture that helps most is taken out.
float steadyLaidDistance (const SlopedPrint& print, const Fingerprint& old, float oldNorm);

/// That shift, in cells: how much farther right and down the laid print would have to be sampled. Nothing where it can't be told.
std::optional<std::array<double, 2>> shiftOf (const SlopedPrint& print, const Fingerprint& old);

/// 1 - the normalised cross-correlation; 1 where either is flat.
float laidDistance (const LaidPrint& laid, const Fingerprint& old, float oldNorm);
} // namespace shutterbeat::scan
