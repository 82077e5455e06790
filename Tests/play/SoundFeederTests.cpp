#include "Catch.h"
#include "Films.h"

#include "play/SoundFeeder.h"

#include <chrono>
#include <cmath>
#include <thread>

using namespace shutterbeat;
using time::Rational;

namespace
{
/// Each sample of the grid says its own number, small enough to be exact.
play::SoundSupply numbered (std::vector<Rational>* asked = nullptr, float side = 1)
{
    return [asked, side] (const Rational& perSecond, int) -> play::SoundRender
    {
        if (asked != nullptr)
            asked->push_back (perSecond);
        return [side] (std::int64_t first, std::span<float> stereo)
        {
            for (std::size_t i = 0; i < stereo.size() / 2; ++i)
            {
                stereo[2 * i] = static_cast<float> (first + static_cast<std::int64_t> (i)) / float (1 << 23);
                stereo[2 * i + 1] = side;
            }
            return true;
        };
    };
}

/// A device that a test turns by hand, on a machine's clock that stands still meanwhile.
class HandDevice
{
public:
    explicit HandDevice (int samplesPerSecond, int blockSamples = 480)
        : rate (samplesPerSecond)
        , block (blockSamples)
        , clock (machine)
        , feeder (clock)
    {
        open (samplesPerSecond, blockSamples);
    }
    void open (int samplesPerSecond, int blockSamples)
    {
        rate = samplesPerSecond;
        block = blockSamples;
        clock.deviceStarted (rate, block, block, 0);
        left.resize (static_cast<std::size_t> (block));
        right.resize (static_cast<std::size_t> (block));
        turn(); // the first callback makes it the clock
    }
    /// One callback, after the feeder had time for its ring. Gives the device's sample of its beginning.
    std::int64_t turn()
    {
        float* out[2] = { left.data(), right.data() };
        const auto first = clock.took (block);
        feeder.fill (out, 2, block, first);
        machine.advance (std::int64_t (block) * play::second / rate);
        return first;
    }
    void letFeed() { std::this_thread::sleep_for (std::chrono::milliseconds (100)); }

    tests::ManualClock machine;
    int rate, block;
    play::SoundClock clock;
    play::SoundFeeder feeder;
    std::vector<float> left, right;
};

std::int64_t numberIn (float sample)
{
    return std::llround (double (sample) * double (1 << 23));
}
} // namespace

TEST_CASE ("every sample is heard at the very moment its picture is on screen")
{
    HandDevice device (48000);
    device.feeder.supply (numbered());
    const auto now = device.clock.nanoseconds();
    // Second 10 of the film is on screen a fifth of a second from now.
    device.feeder.play (Rational (10), 1, now + play::second / 5);
    device.letFeed();
    std::int64_t checked = 0;
    for (int call = 0; call < 100; ++call)
    {
        const auto first = device.turn();
        if (call % 10 == 0)
            device.letFeed();
        for (int i = 0; i < device.block; ++i)
        {
            // The moment at which this sample of the device is heard, and what the film shows then.
            const auto heard = device.clock.sampleAt (now + play::second / 5);
            const auto expected = 480000 + (first + i - heard);
            if (first + i < heard)
                REQUIRE (device.left[static_cast<std::size_t> (i)] == 0.0f);
            else
            {
                REQUIRE (numberIn (device.left[static_cast<std::size_t> (i)]) == expected);
                REQUIRE (device.right[static_cast<std::size_t> (i)] == 1.0f);
                ++checked;
            }
        }
    }
    CHECK (checked > 38000);
    const auto counts = device.feeder.counts();
    CHECK (counts.missed == 0);
    CHECK (counts.played == checked);
}

TEST_CASE ("sound that comes too late is left out: what follows is in its place")
{
    HandDevice device (48000);
    // A render that now and then takes longer than the ring holds.
    std::atomic<int> sleep{ 0 };
    device.feeder.supply (
        [&] (const Rational&, int) -> play::SoundRender
        {
            return [&, inner = numbered() (48000, 48000)] (std::int64_t first, std::span<float> stereo)
            {
                if (sleep.exchange (0) > 0)
                    std::this_thread::sleep_for (std::chrono::milliseconds (150));
                return inner (first, stereo);
            };
        });
    const auto now = device.clock.nanoseconds();
    device.feeder.play (0, 1, now);
    device.letFeed();
    const auto zero = device.clock.sampleAt (now);
    bool late = false, after = false;
    for (int call = 0; call < 400; ++call)
    {
        if (call == 100)
            sleep = 1; // while it sleeps the device takes on
        if (call < 100 || call > 160)
        {
            if (call % 8 == 0)
                device.letFeed();
        }
        const auto first = device.turn();
        for (int i = 0; i < device.block; ++i)
        {
            const auto sample = device.left[static_cast<std::size_t> (i)];
            if (device.right[static_cast<std::size_t> (i)] != 1.0f)
                late = late || call > 100;
            else
            {
                REQUIRE (numberIn (sample) == first + i - zero);
                after = after || late;
            }
        }
    }
    CHECK (late);
    CHECK (after);
    CHECK (device.feeder.counts().missed > 0);
    CHECK (device.feeder.counts().gaps >= 1);
}

TEST_CASE ("the film's speed goes into the grid: varispeed from half to double, silence beside")
{
    CHECK (play::soundAtSpeed (1) == play::SoundAtSpeed::asItIs);
    for (const auto& factor : { Rational (1, 2), Rational (18, 20), Rational (2) })
        CHECK (play::soundAtSpeed (factor) == play::SoundAtSpeed::varispeed);
    for (const auto& factor : { Rational (0), Rational (-1), Rational (1, 4), Rational (4), Rational (-1, 2) })
        CHECK (play::soundAtSpeed (factor) == play::SoundAtSpeed::mute);
    HandDevice device (48000);
    std::vector<Rational> asked;
    device.feeder.supply (numbered (&asked));
    for (const auto& factor : { Rational (1, 2), Rational (25, 24), Rational (2), Rational (-1), Rational (8) })
    {
        asked.clear();
        const auto now = device.clock.nanoseconds();
        device.feeder.play (Rational (3), factor, now);
        device.letFeed();
        bool any = false;
        for (int call = 0; call < 20; ++call)
        {
            const auto first = device.turn();
            for (int i = 0; i < device.block; ++i)
                if (device.right[static_cast<std::size_t> (i)] == 1.0f)
                {
                    any = true;
                    const auto grid = Rational (48000) / factor;
                    REQUIRE (numberIn (device.left[static_cast<std::size_t> (i)])
                             == time::roundOf (Rational (3) * grid) + first + i - device.clock.sampleAt (now));
                }
            if (call % 5 == 0)
                device.letFeed();
        }
        const bool mute = play::soundAtSpeed (factor) == play::SoundAtSpeed::mute;
        CHECK (any != mute);
        if (! mute)
            CHECK (asked.front() == Rational (48000) / factor);
    }
    CHECK (device.feeder.counts().missed == 0);
}

TEST_CASE ("other sounds while playing take over without a gap")
{
    HandDevice device (48000);
    device.feeder.supply (numbered (nullptr, 0.25f));
    device.feeder.play (0, 1, device.clock.nanoseconds());
    device.letFeed();
    const auto zero = device.clock.sampleAt (device.clock.nanoseconds());
    bool begun = false, other = false;
    for (int call = 0; call < 60; ++call)
    {
        if (call == 20)
        {
            device.feeder.supply (numbered (nullptr, 0.75f));
            device.letFeed();
        }
        const auto first = device.turn();
        for (int i = 0; i < device.block; ++i)
        {
            const float side = device.right[static_cast<std::size_t> (i)];
            begun = begun || side == 0.25f;
            if (! begun)
                continue;
            REQUIRE ((side == 0.25f || side == 0.75f));
            REQUIRE (numberIn (device.left[static_cast<std::size_t> (i)]) == first + i - zero);
            REQUIRE ((! other || side == 0.75f));
            other = side == 0.75f;
        }
        if (call % 4 == 0)
            device.letFeed();
    }
    CHECK (other);
    CHECK (device.feeder.counts().missed == 0);
}

TEST_CASE ("a device changed while playing goes on at the same place of the film, at its own rate (CASES B20)")
{
    HandDevice device (48000);
    std::vector<Rational> asked;
    device.feeder.supply (numbered (&asked));
    const auto start = device.clock.nanoseconds();
    device.feeder.play (Rational (5), 1, start);
    device.letFeed();
    for (int call = 0; call < 50; ++call)
    {
        device.turn();
        if (call % 8 == 0)
            device.letFeed();
    }
    device.clock.deviceStopped();
    device.machine.now += play::second / 3;
    device.open (44100, 441);
    device.letFeed();
    bool heard = false;
    for (int call = 0; call < 50; ++call)
    {
        const auto first = device.turn();
        for (int i = 0; i < device.block; ++i)
            if (device.right[static_cast<std::size_t> (i)] == 1.0f)
            {
                heard = true;
                // Where the film is when this sample is heard, on the grid of the new device.
                const auto film = Rational (5 * 44100) + Rational (first + i - device.clock.sampleAt (start));
                REQUIRE (std::abs (numberIn (device.left[static_cast<std::size_t> (i)]) - time::roundOf (film)) <= 1);
            }
        if (call % 8 == 0)
            device.letFeed();
    }
    CHECK (heard);
    REQUIRE (asked.size() >= 2);
    CHECK (asked.back() == Rational (44100));
}

TEST_CASE ("stopping is silent at once, without a crack, and so is having no sounds")
{
    HandDevice device (48000);
    device.feeder.supply (
        [] (const Rational&, int) -> play::SoundRender
        {
            return [] (std::int64_t, std::span<float> stereo)
            {
                std::fill (stereo.begin(), stereo.end(), 1.5f);
                return true;
            };
        });
    device.feeder.play (0, 1, device.clock.nanoseconds());
    device.letFeed();
    for (int call = 0; call < 10; ++call)
        device.turn();
    CHECK (device.left.back() == 1.0f); // held at full scale
    CHECK (device.feeder.counts().clipped > 0);
    device.feeder.stop();
    device.turn();
    CHECK (device.left.front() <= 1.0f);
    float before = 1.0f;
    for (const float sample : device.left)
    {
        REQUIRE (sample <= before);
        REQUIRE (before - sample < 0.05f);
        before = sample;
    }
    CHECK (device.left.back() == 0.0f);
    device.letFeed();
    for (int call = 0; call < 5; ++call)
    {
        device.turn();
        for (const float sample : device.left)
            REQUIRE (sample == 0.0f);
    }
    CHECK (device.feeder.counts().missed == 0);
}

TEST_CASE ("a device of one channel gets both sides, one of six the first two")
{
    HandDevice device (48000);
    device.feeder.supply (
        [] (const Rational&, int) -> play::SoundRender
        {
            return [] (std::int64_t, std::span<float> stereo)
            {
                for (std::size_t i = 0; i < stereo.size(); ++i)
                    stereo[i] = i % 2 == 0 ? 0.5f : 0.25f;
                return true;
            };
        });
    device.feeder.play (0, 1, device.clock.nanoseconds());
    device.letFeed();
    for (int call = 0; call < 4; ++call)
        device.turn();
    std::vector<std::vector<float>> six (6, std::vector<float> (100, 9.0f));
    std::vector<float*> out;
    for (auto& channel : six)
        out.push_back (channel.data());
    device.feeder.fill (out.data(), 6, 100, device.clock.took (100));
    CHECK (six[0][50] == 0.5f);
    CHECK (six[1][50] == 0.25f);
    for (std::size_t c = 2; c < 6; ++c)
        CHECK (six[c][50] == 0.0f);
    device.feeder.fill (out.data(), 1, 100, device.clock.took (100));
    CHECK (six[0][50] == 0.375f);
}

TEST_CASE ("a sound that can't be read is silent and told")
{
    HandDevice device (48000);
    device.feeder.supply (
        [] (const Rational&, int) -> play::SoundRender
        {
            return [] (std::int64_t, std::span<float> stereo)
            {
                std::fill (stereo.begin(), stereo.end(), 0.0f);
                return false;
            };
        });
    CHECK (device.feeder.message().empty());
    device.feeder.play (0, 1, device.clock.nanoseconds());
    device.letFeed();
    CHECK_FALSE (device.feeder.message().empty());
}
