#pragma once

#include "film/Print.h"
#include "scan/Fingerprint.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <vector>

namespace shutterbeat::tests
{
/// A print made of fingerprints only: no pictures, but shots that move, and grain.
struct DrawnPrint
{
    std::vector<scan::Fingerprint> frames;
    std::vector<film::ScannedShot> shots;
    std::vector<std::int64_t> truth; ///< what addShot was told of each frame
};

namespace drawn
{
class Chance
{
public:
    explicit Chance (std::uint64_t seed)
        : state (seed * 2862933555777941757U + 3037000493U)
    {
    }
    float even()
    {
        state = state * 6364136223846793005U + 1442695040888963407U;
        return static_cast<float> (state >> 40U) / static_cast<float> (std::uint64_t{ 1 } << 24U);
    }

private:
    std::uint64_t state;
};

using Field = std::array<float, scan::Fingerprint::size>;

/// Smooth over a few cells, deviation about 25, as pictures are.
inline Field smoothField (Chance& chance)
{
    constexpr int w = scan::Fingerprint::width;
    constexpr int h = scan::Fingerprint::height;
    Field rough{};
    Field smooth{};
    for (auto& cell : rough)
        cell = (chance.even() + chance.even() + chance.even() + chance.even() - 2) * 1.732F;
    for (int y = 0; y < h; ++y)
        for (int x = 0; x < w; ++x)
        {
            float sum = 0;
            for (int dy = -1; dy <= 1; ++dy)
                for (int dx = -1; dx <= 1; ++dx)
                    sum += rough[static_cast<std::size_t> (std::clamp (y + dy, 0, h - 1) * w + std::clamp (x + dx, 0, w - 1))];
            smooth[static_cast<std::size_t> (y * w + x)] = sum * 25 / 3;
        }
    return smooth;
}
} // namespace drawn

/// How a shot is drawn.
struct DrawnLook
{
    float grain = 6;  ///< levels of a cell, plus or minus half of it
    float motion = 1; ///< 0: a still
    bool mirrored = false;
    std::uint64_t print = 0; ///< another grain
};

/// Frames `from` to `to` of shot `seed`, the same shot for the same seed. Frame k's truth is `truth` + k; below 0: -1.
inline void addShot (DrawnPrint& print, std::uint64_t seed, std::int64_t from, std::int64_t to, const DrawnLook& look,
                     std::int64_t truth, film::ShotKind kind = film::ShotKind::shot)
{
    drawn::Chance chance (seed);
    // From one picture to another and a third, as somebody walks through.
    const auto a = drawn::smoothField (chance);
    const auto b = drawn::smoothField (chance);
    const auto c = drawn::smoothField (chance);
    drawn::Chance grain (seed * 31 + look.print + 1);
    const auto first = static_cast<std::int64_t> (print.frames.size());
    for (auto k = from; k < to; ++k)
    {
        const float t = look.motion * static_cast<float> (k) / 120.0F;
        scan::Fingerprint frame;
        for (std::size_t i = 0; i < frame.cells.size(); ++i)
            frame.cells[i] = static_cast<std::int8_t> (std::clamp (
                a[i] + 0.5F * std::sin (3 * t) * b[i] + 0.4F * std::cos (7 * t) * c[i] + look.grain * (grain.even() - 0.5F),
                -127.0F, 127.0F));
        print.frames.push_back (look.mirrored ? scan::mirrored (frame) : frame);
        print.truth.push_back (truth < 0 ? -1 : truth + k);
    }
    print.shots.push_back ({ first, first + to - from, kind, 1 });
}

/// Frames that show nothing.
inline void addBlack (DrawnPrint& print, std::int64_t frames, std::int64_t truth)
{
    const auto first = static_cast<std::int64_t> (print.frames.size());
    for (std::int64_t k = 0; k < frames; ++k)
    {
        print.frames.emplace_back();
        print.truth.push_back (truth < 0 ? -1 : truth + k);
    }
    print.shots.push_back ({ first, first + frames, film::ShotKind::black, 1 });
}
} // namespace shutterbeat::tests
