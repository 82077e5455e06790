#include "Catch.h"
#include "Films.h"

#include "play/TimecodeOut.h"

#include <cmath>

using namespace shutterbeat;
using time::Rational;

namespace
{
play::MidiTimecodeOut out25()
{
    return { *mix::midiRateOf (tests::at25), 90000 }; // picture start 01:00:00:00
}
} // namespace

TEST_CASE ("a standing film tells its label once, in one message")
{
    auto out = out25();
    CHECK (out.due (5).empty());
    out.standing (Rational (2));
    const auto due = out.due (100);
    REQUIRE (due.size() == 1);
    CHECK (due[0].bytes == std::vector<std::uint8_t>{ 0xF0, 0x7F, 0x7F, 0x01, 0x01, 0x21, 0x00, 0x02, 0x00, 0xF7 });
    CHECK (out.due (200).empty());
    // Running back is told as standing.
    out.running (Rational (3), Rational (-1), 300);
    CHECK (out.due (400).size() == 1);
}

TEST_CASE ("a running film gives each quarter frame once and at its time, however unevenly it is asked")
{
    for (const auto& factor : { Rational (1), Rational (1, 2), Rational (25, 24) })
    {
        auto out = out25();
        const std::int64_t begin = 7 * play::second + 123;
        out.running (Rational (1), factor, begin);
        std::vector<play::DueMidi> all;
        for (std::int64_t now = begin, i = 0; now < begin + 4 * play::second; now += 1'000'000 + (i++ % 5) * 3'100'000)
            for (auto& message : out.due (now + 10'000'000))
                all.push_back (message);
        REQUIRE (all.size() > 150);
        for (std::size_t i = 0; i < all.size(); ++i)
        {
            REQUIRE (all[i].bytes.size() == 2);
            REQUIRE (all[i].bytes[0] == 0xF1);
            // Second 1 is count 90025; the first quarter from there on is its own, the fourth of eight.
            REQUIRE (all[i].bytes[1] >> 4 == static_cast<int> ((i + 4) % 8));
            const double exact = double (begin) + double (i) / 100 / time::toDouble (factor) * 1e9;
            REQUIRE (std::abs (double (all[i].clockNanoseconds) - exact) <= 1);
        }
    }
}

TEST_CASE ("asked after a long sleep it does not pour out what is over")
{
    auto out = out25();
    out.running (Rational (0), Rational (1), 0);
    CHECK (out.due (10 * play::second).size() <= 11);
}

TEST_CASE ("linear timecode for a feeder follows the film's speed")
{
    const auto code = mix::LinearTimecode::of (tests::at25, 90000);
    const auto render = play::timecodeSupply (*code) (Rational (48000), 48000);
    const auto slow = play::timecodeSupply (*code) (Rational (96000), 48000); // half speed
    std::vector<float> stereo (2 * 48000), slower (2 * 96000);
    CHECK (render (0, stereo));
    CHECK (slow (0, slower));
    CHECK (stereo[100] == stereo[101]);
    mix::LtcFinder finder (48000, 25), slowFinder (48000, 25);
    const auto left = [] (const std::vector<float>& both)
    {
        std::vector<float> mono;
        for (std::size_t i = 0; i < both.size(); i += 2)
            mono.push_back (both[i]);
        return mono;
    };
    const auto labels = finder.feed (left (stereo)), slowLabels = slowFinder.feed (left (slower));
    REQUIRE (labels.size() >= 23);
    REQUIRE (slowLabels.size() >= 20);
    CHECK (labels.back().text == slowLabels.back().text);
    CHECK (std::abs (slowLabels.back().first - 2 * labels.back().first) < 60);
}
