#include "media/FrameRate.h"

#include "Catch.h"
#include "media/Opened.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;
using media::frameRateOf;
using media::measureRate;
using time::Rational;

namespace
{
/// Timestamps of `count` frames at `rate`, rounded down to `base`.
std::vector<media::PresentedFrame> stamped (int count, const Rational& rate, const Rational& base, std::int64_t first = 0)
{
    std::vector<media::PresentedFrame> frames;
    for (int k = 0; k < count; ++k)
        frames.push_back ({ first + time::floorOf (Rational (k) / rate / base), k, k == 0 });
    return frames;
}
} // namespace

TEST_CASE ("field rates are not frame rates (B18)")
{
    CHECK (frameRateOf (Rational (50), Rational (25)) == Rational (25));
    CHECK (frameRateOf (ratio (60000, 1001), ratio (30000, 1001)) == ratio (30000, 1001));
    CHECK (frameRateOf (Rational (50), Rational (50)) == Rational (50));
    CHECK (frameRateOf (Rational (25), Rational (25)) == Rational (25));
    CHECK (frameRateOf (Rational (24), ratio (23998, 1000)) == Rational (24));
    CHECK (frameRateOf (ratio (0, 0), Rational (18)) == Rational (18));
    CHECK (frameRateOf (Rational (18), ratio (0, 0)) == Rational (18));
    CHECK (frameRateOf (ratio (90000, 1), Rational (25)) == Rational (25));
    CHECK (frameRateOf (ratio (0, 0), ratio (0, 0)) == Rational (0));
}

TEST_CASE ("the rate is found in milliseconds and in 90 kHz, exactly")
{
    for (const auto& rate : { ratio (24000, 1001), Rational (24), Rational (25), ratio (30000, 1001), Rational (30), Rational (16),
                              Rational (18), ratio (200, 11), Rational (20), ratio (240, 11), Rational (22), Rational (50),
                              ratio (60000, 1001), Rational (60), Rational (10) })
        for (const auto& base : { ratio (1, 1000), ratio (1, 90000), ratio (1, 12800) })
        {
            const auto measured = measureRate (stamped (1500, rate, base, 777), base, { rate });
            CHECK (measured.rate == rate);
            CHECK_FALSE (measured.variable);
            // Even when the container has its rate wrong.
            CHECK (measureRate (stamped (1500, rate, base), base, { ratio (1499, 61) }).rate == rate);
        }
}

TEST_CASE ("uneven steps are said")
{
    const auto base = ratio (1, 1000);
    auto frames = stamped (300, Rational (25), base);
    for (std::size_t k = 100; k < frames.size(); ++k)
        frames[k].pts += 400;
    auto measured = measureRate (frames, base, { ratio (2429, 100), Rational (25) });
    CHECK (measured.variable);
    CHECK (measured.rate == Rational (25));

    // Soft pulldown: shown for 2 and 3 fields by turns.
    frames.clear();
    for (int k = 0; k < 240; ++k)
        frames.push_back ({ (k / 2 * 5 + k % 2 * 2) * 3003 / 2, k, false });
    measured = measureRate (frames, ratio (1, 90000), { ratio (30000, 1001) });
    CHECK (measured.variable);
    CHECK (measured.rate == ratio (24000, 1001));
}

TEST_CASE ("frames without a timestamp are passed over")
{
    const auto base = ratio (1, 90000);
    auto frames = stamped (100, ratio (30000, 1001), base);
    for (std::size_t k = 0; k < frames.size(); k += 3)
        frames[k].pts = media::noTimestamp;
    const auto measured = measureRate (frames, base, { Rational (25) });
    CHECK (measured.rate == ratio (30000, 1001));
    CHECK_FALSE (measured.variable);

    for (auto& frame : frames)
        frame.pts = media::noTimestamp;
    CHECK (measureRate (frames, base, { Rational (18) }).rate == Rational (18));
    CHECK (measureRate ({}, base, {}).rate == Rational (25));
    CHECK (measureRate (stamped (1, Rational (24), base), base, { Rational (24) }).rate == Rational (24));
}

TEST_CASE ("an exact step that is no usual rate is kept")
{
    const auto base = ratio (1, 1000000);
    const auto measured = measureRate (stamped (200, ratio (1000000, 73000), base), base, { Rational (25) });
    CHECK (measured.rate == ratio (1000, 73));
    CHECK_FALSE (measured.variable);
}
