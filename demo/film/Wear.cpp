#include "Wear.h"

#include "Ink.h"
#include "Stage.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace shutterbeat::demo
{

namespace
{

constexpr int kGrainSide = 1024;
constexpr int kHaloStep = 8;
constexpr int kHaloWidth = kStageWidth / kHaloStep;
constexpr int kHaloHeight = kStageHeight / kHaloStep;
constexpr double kMaxWeave = 4.0; // pixels
constexpr std::size_t kStagePixels = static_cast<std::size_t> (kStageWidth) * kStageHeight;
constexpr std::size_t kFramePixels = static_cast<std::size_t> (kFrameWidth) * kFrameHeight;

double jitter (std::uint32_t seed, int frame)
{
    return chance (seed, static_cast<std::uint32_t> (frame)) * 2 - 1;
}

} // namespace

WornPrint::WornPrint (const WearLook& look, int filmFrames)
    : look_ (look)
    , grain_ (static_cast<std::size_t> (kGrainSide) * kGrainSide)
    , vignette_ (kFramePixels)
    , soft_ (kStagePixels)
    , rows_ (kStagePixels)
    , halo_ (static_cast<std::size_t> (kHaloWidth) * kHaloHeight)
    , out_ (kFramePixels)
{
    // Grain: sums of chances, softened a little sideways so that it clumps like silver does.
    double previous = 0;
    for (std::size_t i = 0; i < grain_.size(); ++i)
    {
        const auto n = static_cast<std::uint32_t> (i);
        const double value = chance (look.seed, n) + chance (look.seed + 1, n) + chance (look.seed + 2, n) - 1.5;
        grain_[i] = static_cast<std::int8_t> (std::clamp ((value * 0.8 + previous * 0.45) * 80, -127.0, 127.0));
        previous = value;
    }
    // Lens fall-off and the rounded camera aperture with its soft edge.
    for (int y = 0; y < kFrameHeight; ++y)
        for (int x = 0; x < kFrameWidth; ++x)
        {
            const double dx = (x - 320) / 320.0, dy = (y - 240) / 240.0;
            const double fall = 1 - 0.2 * std::pow ((dx * dx + dy * dy) / 1.4, 1.5);
            vignette_[static_cast<std::size_t> (y) * kFrameWidth + x] = static_cast<std::uint8_t> (255 * clamp01 (fall));
        }
    // Scratches come in runs and wander; how many depends on the length of the film.
    const int count = static_cast<int> (filmFrames / 95.0 * look.scratches);
    for (int i = 0; i < count; ++i)
    {
        const auto n = static_cast<std::uint32_t> (i);
        const int first = static_cast<int> (chance (look.seed + 11, n) * filmFrames);
        const int length = 14 + static_cast<int> (110 * chance (look.seed + 12, n) * chance (look.seed + 13, n));
        scratches_.push_back ({ first, first + length, 20 + 600 * chance (look.seed + 14, n), 6 + 22 * chance (look.seed + 15, n),
                                0.7 + 0.8 * chance (look.seed + 16, n), chance (look.seed + 17, n) < 0.62 ? 235.0 : 24.0,
                                look.seed + 1000 + n });
    }
}

void WornPrint::soften (const std::vector<std::uint8_t>& stage)
{
    for (int y = 0; y < kStageHeight; ++y)
    {
        const std::uint8_t* in = stage.data() + static_cast<std::size_t> (y) * kStageWidth;
        std::uint16_t* row = rows_.data() + static_cast<std::size_t> (y) * kStageWidth;
        row[0] = static_cast<std::uint16_t> (in[0] * 4);
        row[kStageWidth - 1] = static_cast<std::uint16_t> (in[kStageWidth - 1] * 4);
        for (int x = 1; x < kStageWidth - 1; ++x)
            row[x] = static_cast<std::uint16_t> (in[x - 1] + 2 * in[x] + in[x + 1]);
    }
    for (int y = 0; y < kStageHeight; ++y)
    {
        const std::uint16_t* up = rows_.data() + static_cast<std::size_t> (std::max (y - 1, 0)) * kStageWidth;
        const std::uint16_t* mid = rows_.data() + static_cast<std::size_t> (y) * kStageWidth;
        const std::uint16_t* low = rows_.data() + static_cast<std::size_t> (std::min (y + 1, kStageHeight - 1)) * kStageWidth;
        std::uint8_t* out = soft_.data() + static_cast<std::size_t> (y) * kStageWidth;
        for (int x = 0; x < kStageWidth; ++x)
            out[x] = static_cast<std::uint8_t> ((up[x] + 2 * mid[x] + low[x] + 8) >> 4);
    }
}

void WornPrint::halate()
{
    for (int y = 0; y < kHaloHeight; ++y)
        for (int x = 0; x < kHaloWidth; ++x)
        {
            int sum = 0;
            for (int j = 0; j < kHaloStep; j += 2)
                for (int i = 0; i < kHaloStep; i += 2)
                    sum += soft_[static_cast<std::size_t> (y * kHaloStep + j) * kStageWidth
                                 + static_cast<std::size_t> (x * kHaloStep + i)];
            halo_[static_cast<std::size_t> (y) * kHaloWidth + x] = static_cast<float> (sum) / 16.0F;
        }
    std::vector<float> other (halo_.size());
    for (int pass = 0; pass < 2; ++pass)
    {
        for (int y = 0; y < kHaloHeight; ++y)
            for (int x = 0; x < kHaloWidth; ++x)
            {
                float sum = 0;
                for (int i = -2; i <= 2; ++i)
                    sum += halo_[static_cast<std::size_t> (y) * kHaloWidth
                                 + static_cast<std::size_t> (std::clamp (x + i, 0, kHaloWidth - 1))];
                other[static_cast<std::size_t> (y) * kHaloWidth + x] = sum / 5;
            }
        for (int y = 0; y < kHaloHeight; ++y)
            for (int x = 0; x < kHaloWidth; ++x)
            {
                float sum = 0;
                for (int i = -2; i <= 2; ++i)
                    sum += other[static_cast<std::size_t> (std::clamp (y + i, 0, kHaloHeight - 1)) * kHaloWidth
                                 + static_cast<std::size_t> (x)];
                halo_[static_cast<std::size_t> (y) * kHaloWidth + x] = sum / 5;
            }
    }
}

void WornPrint::expose (int filmFrame, int flash)
{
    const std::uint32_t seed = look_.seed;
    const auto weave = [&] (std::uint32_t axis, double amount)
    {
        const double drift = 2.3 * wander (seed + 21 + axis, filmFrame * 0.045) + 0.8 * wander (seed + 23 + axis, filmFrame * 0.3);
        return std::clamp (amount * look_.weave * (drift + 0.7 * jitter (seed + 25 + axis, filmFrame)), -kMaxWeave, kMaxWeave);
    };
    const double offX = weave (0, 0.8) + look_.shiftX;
    const double offY = weave (1, 1.0) + look_.shiftY + (flash == 1 ? 2.5 : flash == 2 ? -1.5 : 0);
    const double flicker =
        1 + look_.flicker * (0.035 * wander (seed + 31, filmFrame * 0.55) + 0.03 * jitter (seed + 32, filmFrame));
    const double flashGain = flash == 1 ? 1.45 : flash == 2 ? 1.12 : 1, flashLift = flash == 1 ? 78 : flash == 2 ? 16 : 0;

    // Tone of the print: a soft shoulder, lifted blacks, gamma; then flicker. Grain is strongest in the middle greys.
    std::array<std::int16_t, 512> tone{};
    std::array<std::int16_t, 256> grainAt{};
    for (int i = 0; i < 512; ++i)
    {
        const double s = std::pow (std::min (1.0, i / 278.0), look_.gamma);
        const double curved = s * s * (3 - 2 * s) * 0.45 + s * 0.55;
        tone[static_cast<std::size_t> (i)] =
            static_cast<std::int16_t> (std::clamp ((7 + 240 * curved) * flicker * flashGain + flashLift, 0.0, 255.0));
    }
    for (int i = 0; i < 256; ++i)
        grainAt[static_cast<std::size_t> (i)] =
            static_cast<std::int16_t> (look_.grain * (4 + 8 * std::sin (kPi * (i + 20) / 296.0)));

    const auto frameSeed = static_cast<std::uint32_t> (filmFrame);
    const int grainX = static_cast<int> (chance (seed + 41, frameSeed) * (kGrainSide - kFrameWidth));
    const int grainY = static_cast<int> (chance (seed + 42, frameSeed) * (kGrainSide - kFrameHeight));
    const auto fixed = [] (double v) { return static_cast<std::int32_t> (std::lround (v * 65536)); };
    const std::int32_t stepX = fixed (look_.zoom);
    const std::int32_t startX = fixed ((0 - 320) * look_.zoom + 320 + kMargin + offX);

    std::array<int, kFrameWidth> haloRow{};
    for (int y = 0; y < kFrameHeight; ++y)
    {
        const double sy = (y - 240) * look_.zoom + 240 + kMargin + offY;
        const int y0 = std::clamp (static_cast<int> (std::floor (sy)), 0, kStageHeight - 2);
        const int fy = std::clamp (static_cast<int> ((sy - y0) * 256), 0, 256);
        const std::uint8_t* a = soft_.data() + static_cast<std::size_t> (y0) * kStageWidth;
        const std::uint8_t* b = a + kStageWidth;
        {
            const double hy = std::clamp (sy / kHaloStep - 0.5, 0.0, kHaloHeight - 1.001);
            const int h0 = static_cast<int> (hy);
            const auto part = static_cast<float> (hy - h0);
            const float* top = halo_.data() + static_cast<std::size_t> (h0) * kHaloWidth;
            const float* low = top + kHaloWidth;
            for (int x = 0; x < kFrameWidth; ++x)
            {
                const int cell = (x + kMargin) / kHaloStep, in = (x + kMargin) % kHaloStep;
                const float left = top[cell - 1] + (low[cell - 1] - top[cell - 1]) * part;
                const float mid = top[cell] + (low[cell] - top[cell]) * part;
                haloRow[static_cast<std::size_t> (x)] =
                    static_cast<int> ((left + (mid - left) * (static_cast<float> (in) / kHaloStep)) * 0.12F);
            }
        }
        const std::int8_t* grains = grain_.data() + static_cast<std::size_t> (grainY + y) * kGrainSide + grainX;
        const std::uint8_t* fall = vignette_.data() + static_cast<std::size_t> (y) * kFrameWidth;
        std::uint8_t* out = out_.data() + static_cast<std::size_t> (y) * kFrameWidth;
        std::int32_t at = startX;
        for (int x = 0; x < kFrameWidth; ++x, at += stepX)
        {
            const int x0 = at >> 16, fx = (at >> 8) & 0xFF;
            const int upper = a[x0] * (256 - fx) + a[x0 + 1] * fx;
            const int lower = b[x0] * (256 - fx) + b[x0 + 1] * fx;
            const int level = (upper * (256 - fy) + lower * fy) >> 16;
            int v = tone[static_cast<std::size_t> (level + haloRow[static_cast<std::size_t> (x)])];
            v = (v * fall[x]) >> 8;
            v += (grains[x] * grainAt[static_cast<std::size_t> (v)]) >> 7;
            v = std::clamp (v, 0, 255);
            out[x] = static_cast<std::uint8_t> (16 + ((v * 220) >> 8));
        }
    }
}

void WornPrint::blend (int x, int y, double tone, double alpha)
{
    if (x < 0 || y < 0 || x >= kFrameWidth || y >= kFrameHeight)
        return;
    std::uint8_t& p = out_[static_cast<std::size_t> (y) * kFrameWidth + static_cast<std::size_t> (x)];
    p = static_cast<std::uint8_t> (p + (tone - p) * clamp01 (alpha));
}

void WornPrint::scratch (int filmFrame)
{
    for (const Scratch& s : scratches_)
    {
        if (filmFrame < s.first || filmFrame >= s.end)
            continue;
        const double life = ease (filmFrame, s.first - 1, s.first + 4) * (1 - ease (filmFrame, s.end - 4, s.end));
        for (int y = 0; y < kFrameHeight; ++y)
        {
            const double along = filmFrame + y / static_cast<double> (kFrameHeight);
            const double x = s.x + s.reach * wander (s.seed, along * 0.11) + 0.6 * wander (s.seed + 1, along * 2.3);
            const double strength = life * (0.42 + 0.4 * wander (s.seed + 2, along * 3.1));
            if (strength <= 0.04)
                continue;
            const int x0 = static_cast<int> (std::floor (x));
            for (int i = -1; i <= 2; ++i)
                blend (x0 + i, y, s.tone, strength * clamp01 (s.width + 0.5 - std::abs (x0 + i - x)));
        }
    }
}

void WornPrint::dirty (int filmFrame)
{
    const std::uint32_t seed = look_.seed * 31u + static_cast<std::uint32_t> (filmFrame) * 2654435761u;
    // Some stretches of the reel are dirtier than others.
    const double dirtiness = look_.dirt * (2.6 + 2.2 * wander (look_.seed + 51, filmFrame * 0.02));
    const int specks = static_cast<int> (dirtiness * 2 * chance (seed, 0));
    for (int i = 0; i < specks; ++i)
    {
        const auto n = static_cast<std::uint32_t> (i * 8);
        const double cx = chance (seed, n + 1) * kFrameWidth, cy = chance (seed, n + 2) * kFrameHeight;
        const double big = chance (seed, n + 3);
        const double r = 0.8 + 2.0 * big + (big > 0.94 ? 6 : 0);
        const double tone = chance (seed, n + 4) < 0.55 ? 230 : 22;
        for (int y = static_cast<int> (cy - r * 2); y <= cy + r * 2; ++y)
            for (int x = static_cast<int> (cx - r * 2); x <= cx + r * 2; ++x)
            {
                const double angle = std::atan2 (y - cy, x - cx);
                const double edge = r * (1 + 0.5 * wander (seed + n, 3 + angle * 1.4));
                blend (x, y, tone, 0.85 * clamp01 (edge - std::hypot (x - cx, y - cy) + 0.5));
            }
    }
    // Now and then a hair.
    if (chance (seed, 900) < 0.035 * look_.dirt)
    {
        double x = chance (seed, 901) * kFrameWidth, y = chance (seed, 902) * kFrameHeight, angle = chance (seed, 903) * 2 * kPi;
        const int length = 30 + static_cast<int> (70 * chance (seed, 904));
        for (int i = 0; i < length; ++i)
        {
            angle += 0.09 * wander (seed + 5, i * 0.15) + 0.03;
            x += std::cos (angle);
            y += std::sin (angle);
            blend (static_cast<int> (x), static_cast<int> (y), 20, 0.8);
            blend (static_cast<int> (x) + 1, static_cast<int> (y), 20, 0.4);
        }
    }
}

const std::vector<std::uint8_t>& WornPrint::print (const std::vector<std::uint8_t>& stage, int filmFrame, int flash)
{
    soften (stage);
    halate();
    expose (filmFrame, flash);
    scratch (filmFrame);
    dirty (filmFrame);
    if (flash == 1)
        // The overlap of the cement splice shows as a bright ragged band along the frame line.
        for (int x = 0; x < kFrameWidth; ++x)
        {
            const int high = 9 + static_cast<int> (4 * wander (look_.seed + 61, x * 0.07));
            for (int y = 0; y < high; ++y)
                blend (x, kFrameHeight - 1 - y, y == high - 1 ? 40 : 232, 0.8);
        }
    return out_;
}

} // namespace shutterbeat::demo
