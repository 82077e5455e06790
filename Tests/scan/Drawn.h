#pragma once

#include "film/GreyPicture.h"
#include "scan/Scanner.h"
#include "scan/Shots.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

namespace shutterbeat::tests
{
/// Repeatable noise: the same numbers on every machine.
class Dice
{
public:
    explicit Dice (std::uint64_t seed)
        : state (seed * 2862933555777941757U + 3037000493U)
    {
    }
    /// 0 to 1.
    double even()
    {
        state = state * 6364136223846793005U + 1442695040888963407U;
        return static_cast<double> (state >> 40U) / static_cast<double> (std::uint64_t{ 1 } << 24U);
    }
    /// About normal, deviation 1.
    double bell() { return (even() + even() + even() + even() - 2) * 1.732; }

private:
    std::uint64_t state;
};

/// A scene drawn from smooth random spots, larger than the picture, through which the camera can wander.
class Scene
{
public:
    explicit Scene (std::uint64_t seed)
    {
        Dice dice (seed);
        spots.resize (static_cast<std::size_t> (cells * cells));
        for (double& spot : spots)
            spot = 40 + 170 * dice.even();
    }
    /// The picture with the camera at (x, y) pixels.
    [[nodiscard]] film::GreyPicture picture (double x, double y) const
    {
        film::GreyPicture picture;
        picture.width = scan::scanWidth;
        picture.height = scan::scanHeight;
        for (int row = 0; row < picture.height; ++row)
            for (int column = 0; column < picture.width; ++column)
                picture.pixels.push_back (static_cast<std::uint8_t> (at ((column + x) / 11 + 40, (row + y) / 11 + 40)));
        return picture;
    }

private:
    static constexpr int cells = 128;
    [[nodiscard]] double spot (int x, int y) const
    {
        return spots[static_cast<std::size_t> (((y % cells + cells) % cells) * cells + (x % cells + cells) % cells)];
    }
    [[nodiscard]] double at (double x, double y) const
    {
        const int cx = static_cast<int> (std::floor (x));
        const int cy = static_cast<int> (std::floor (y));
        const double fx = x - cx;
        const double fy = y - cy;
        return (spot (cx, cy) * (1 - fx) + spot (cx + 1, cy) * fx) * (1 - fy)
               + (spot (cx, cy + 1) * (1 - fx) + spot (cx + 1, cy + 1) * fx) * fy;
    }
    std::vector<double> spots;
};

/// A flat picture.
inline film::GreyPicture flat (int level)
{
    film::GreyPicture picture;
    picture.width = scan::scanWidth;
    picture.height = scan::scanHeight;
    picture.pixels.assign (static_cast<std::size_t> (picture.width * picture.height), static_cast<std::uint8_t> (level));
    return picture;
}

/// a times (1 - share) plus b times share.
inline film::GreyPicture mixed (const film::GreyPicture& a, const film::GreyPicture& b, double share)
{
    film::GreyPicture picture = a;
    for (std::size_t i = 0; i < picture.pixels.size(); ++i)
        picture.pixels[i] = static_cast<std::uint8_t> (std::lround (a.pixels[i] * (1 - share) + b.pixels[i] * share));
    return picture;
}

/// Brightness times `gain`, plus grain of that deviation.
inline film::GreyPicture worn (film::GreyPicture picture, double gain, double grain, Dice& dice)
{
    for (auto& pixel : picture.pixels)
        pixel = static_cast<std::uint8_t> (std::clamp (std::lround (pixel * gain + grain * dice.bell()), 0L, 255L));
    return picture;
}

inline scan::Measures measure (const std::vector<film::GreyPicture>& pictures)
{
    scan::Scanner scanner;
    for (const auto& picture : pictures)
        if (! scanner.add (picture))
            return {};
    return scanner.finish();
}

/// First file frames of all shots but the first.
inline std::vector<std::int64_t> cutsOf (const scan::ScanResult& result)
{
    std::vector<std::int64_t> cuts;
    for (const auto& shot : result.shots)
        if (shot.firstFile > 0)
            cuts.push_back (shot.firstFile);
    return cuts;
}
} // namespace shutterbeat::tests
