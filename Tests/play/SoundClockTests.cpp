#include "Catch.h"
#include "Films.h"

#include "play/SoundClock.h"

#include <cmath>
#include <thread>

using namespace shutterbeat;
using shutterbeat::tests::ManualClock;

namespace
{
/// A sound card that calls back every block of its own rate, early and late by `ragged` nanoseconds.
class Card
{
public:
    Card (play::SoundClock& soundClock, ManualClock& machine, int samplesPerSecond, int blockSamples, double pace = 1)
        : clock (soundClock)
        , steady (machine)
        , rate (samplesPerSecond)
        , block (blockSamples)
        , speed (pace)
    {
        clock.deviceStarted (rate, block, 2 * block, block);
        start = steady.now;
    }
    /// Runs so many nanoseconds, reading the clock every `step`, and gives each reading to `seen`.
    template <class Seen>
    void run (std::int64_t nanoseconds, Seen seen, std::int64_t ragged = 0, std::int64_t step = 1'000'000)
    {
        const auto end = steady.now + nanoseconds;
        for (; steady.now < end; steady.now += step)
        {
            for (;;)
            {
                noise = noise * 1664525 + 1013904223;
                const auto late = ragged > 0 ? static_cast<std::int64_t> (noise >> 4) % ragged : 0;
                if (double (steady.now - start - late) * rate * speed / double (play::second) < double (calls) * block)
                    break;
                clock.took (block);
                ++calls;
            }
            seen (clock.nanoseconds());
        }
    }

private:
    play::SoundClock& clock;
    ManualClock& steady;
    int rate, block;
    double speed;
    std::int64_t start = 0, calls = 0;
    std::uint32_t noise = 1;
};
} // namespace

TEST_CASE ("without a device the sound clock is the machine's")
{
    ManualClock machine;
    play::SoundClock clock (machine);
    const auto start = clock.nanoseconds();
    machine.now += 123'456'789;
    CHECK (clock.nanoseconds() - start == 123'456'789);
    CHECK_FALSE (clock.onDevice());
    CHECK (clock.name() == "silent clock");
    CHECK_FALSE (clock.message().empty());
}

TEST_CASE ("the card's samples are the clock, steady between ragged callbacks, and it never runs back")
{
    // A card half a thousandth fast; calls come up to 8 ms late.
    ManualClock machine;
    play::SoundClock clock (machine);
    Card card (clock, machine, 48000, 480, 1.0005);
    card.run (
        2 * play::second, [] (std::int64_t) {}, 8'000'000);
    CHECK (clock.onDevice());
    CHECK (clock.name() == "sound card");
    CHECK (clock.message().empty());
    const auto from = clock.nanoseconds();
    const auto machineFrom = machine.now;
    std::int64_t last = from;
    double worst = 0;
    card.run (
        60 * play::second,
        [&] (std::int64_t now)
        {
            REQUIRE (now >= last);
            last = now;
            worst = std::max (worst, std::abs (double (now - from) - 1.0005 * double (machine.now - machineFrom)));
        },
        8'000'000);
    INFO ("worst " << worst / 1e6 << " ms beside the card's own time");
    CHECK (worst < 4e6); // of 8 ms of raggedness and 30 ms of drift
    CHECK (double (last - from) / (60.0 * play::second) == Approx (1.0005).epsilon (1e-4)); // the card's time, not the machine's
    // What is heard at a moment of the clock.
    CHECK (clock.sampleAt (last + play::second) - clock.sampleAt (last) == Approx (48000).margin (1));
}

TEST_CASE ("a device that runs away hands over without a jump, and says so")
{
    ManualClock machine;
    play::SoundClock clock (machine);
    const auto before = clock.nanoseconds();
    clock.deviceStarted (48000, 512, 1024, 512);
    const auto start = machine.now;
    std::int64_t last = before;
    for (int ms = 0; ms < 3000; ++ms)
    {
        machine.now += 1'000'000;
        for (int calls = 0; calls < 200; ++calls) // ALSA's null device: two thousand times too fast
            clock.took (512);
        const auto now = clock.nanoseconds();
        REQUIRE (now >= last);
        REQUIRE (now - last < 3'000'000);
        last = now;
    }
    CHECK (std::abs (last - before - (machine.now - start)) < 5'000'000);
    CHECK_FALSE (clock.onDevice());
    CHECK (clock.name() == "silent clock");
    CHECK (clock.message().find ("faster than time") != std::string::npos);
}

TEST_CASE ("a device at a wrong rate is found out in seconds")
{
    for (const double pace : { 1.088, 0.919 }) // 48 kHz taken for 44.1 and the other way about
    {
        ManualClock machine;
        play::SoundClock clock (machine);
        Card card (clock, machine, 48000, 480, pace);
        std::int64_t last = clock.nanoseconds();
        card.run (15 * play::second,
                  [&] (std::int64_t now)
                  {
                      REQUIRE (now >= last);
                      REQUIRE (now - last < 2'500'000);
                      last = now;
                  });
        CHECK_FALSE (clock.onDevice());
        CHECK (clock.message().find (pace > 1 ? "faster" : "slower") != std::string::npos);
    }
}

TEST_CASE ("a device that stands still is left at its place, and taken up again when it plays on")
{
    ManualClock machine;
    play::SoundClock clock (machine);
    Card card (clock, machine, 44100, 441);
    card.run (3 * play::second, [] (std::int64_t) {});
    REQUIRE (clock.onDevice());
    const auto epoch = clock.epoch();
    std::int64_t last = clock.nanoseconds();
    for (int ms = 0; ms < 2000; ++ms) // two seconds without a callback
    {
        machine.now += 1'000'000;
        const auto now = clock.nanoseconds();
        REQUIRE (now - last == Approx (1e6).margin (1000));
        last = now;
    }
    CHECK_FALSE (clock.onDevice());
    CHECK (clock.message().find ("stands still") != std::string::npos);
    // It plays on: no jump, a new relation of samples and clock.
    for (int calls = 0; calls < 200; ++calls)
    {
        clock.took (441);
        machine.now += 10'000'000;
        const auto now = clock.nanoseconds();
        REQUIRE (now >= last);
        REQUIRE (now - last < 12'000'000);
        last = now;
    }
    CHECK (clock.onDevice());
    CHECK (clock.epoch() > epoch);
}

TEST_CASE ("a device changed for one of another rate, or lost, leaves the clock where it is (CASES B20)")
{
    ManualClock machine;
    play::SoundClock clock (machine);
    const auto start = machine.now, from = clock.nanoseconds();
    std::int64_t last = from;
    const auto watch = [&] (std::int64_t now)
    {
        REQUIRE (now >= last);
        REQUIRE (now - last < 2'500'000);
        last = now;
    };
    {
        Card first (clock, machine, 48000, 512);
        first.run (4 * play::second, watch);
    }
    clock.deviceStopped();
    for (int ms = 0; ms < 700; ++ms)
    {
        machine.now += 1'000'000;
        watch (clock.nanoseconds());
    }
    CHECK_FALSE (clock.onDevice());
    Card other (clock, machine, 44100, 256);
    other.run (4 * play::second, watch);
    CHECK (clock.onDevice());
    CHECK (clock.rate() == 44100);
    CHECK (std::abs ((last - from) - (machine.now - start)) < 20'000'000);
    CHECK (clock.sampleAt (last + play::second) - clock.sampleAt (last) == Approx (44100).margin (1));
}

TEST_CASE ("the clock is read from one thread while the device runs on another")
{
    const play::SteadyClock machine;
    play::SoundClock clock (machine);
    clock.deviceStarted (48000, 64, 128, 64);
    std::atomic<bool> ending{ false };
    std::thread device (
        [&]
        {
            const auto start = machine.nanoseconds();
            std::int64_t calls = 0;
            while (! ending)
                if ((machine.nanoseconds() - start) * 48000 / play::second > calls * 64)
                {
                    clock.took (64);
                    ++calls;
                }
                else
                    std::this_thread::sleep_for (std::chrono::microseconds (200));
        });
    std::int64_t last = clock.nanoseconds();
    const auto until = machine.nanoseconds() + play::second / 2;
    while (machine.nanoseconds() < until)
    {
        const auto now = clock.nanoseconds();
        REQUIRE (now >= last);
        last = now;
    }
    ending = true;
    device.join();
    CHECK (clock.onDevice());
}
