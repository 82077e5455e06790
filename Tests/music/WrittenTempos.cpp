#include "Catch.h"

#include "music/TickMap.h"

using namespace shutterbeat;
using music::TickMap;
using music::WrittenTempo;
using time::Rational;

namespace
{
std::int64_t micros (const std::string& beatsPerMinute)
{
    const auto tempo = music::writtenTempo (*time::parseRational (beatsPerMinute));
    REQUIRE (tempo.ok());
    return tempo->microsPerQuarter;
}

Rational distance (const Rational& a, const Rational& b)
{
    return a < b ? b - a : a - b;
}

/// Half a tick where `seconds` lies.
Rational halfTick (const TickMap& map, const Rational& seconds)
{
    const music::TickMap::Step* step = &map.steps().front();
    for (const auto& next : map.steps())
        if (next.seconds <= seconds)
            step = &next;
    return step->tempo.secondsPerQuarter() / Rational (2 * map.ticksPerQuarter());
}
} // namespace

TEST_CASE ("tempos of handbook 4.6 round to their whole microseconds")
{
    const std::vector<std::pair<std::string, std::int64_t>> rows{
        { "60", 0x0F4240 },  { "72", 0x0CB735 },  { "90", 0x0A2C2B },   { "95", 0x09A31B },     { "110", 0x0852AF },
        { "120", 0x07A120 }, { "128", 0x07270E }, { "133", 0x06E238 },  { "140", 0x068A1B },    { "144", 0x065B9B },
        { "160", 0x05B8D8 }, { "200", 0x0493E0 }, { "97.3", 0x0968CA }, { "131.07", 0x06FC2B },
    };
    for (const auto& [beats, written] : rows)
        CHECK (micros (beats) == written);
}

TEST_CASE ("a written tempo reads back as it was wanted")
{
    for (const char* beats : { "97.30", "131.07", "164.00", "72.00", "140.00", "59.94" })
        CHECK (music::tempoText (*music::writtenTempo (*time::parseRational (beats))) == beats);
}

TEST_CASE ("what 24 bits cannot say is refused")
{
    CHECK (music::writtenTempo (Rational (60'000'000, 16'777'215)).ok());
    CHECK_FALSE (music::writtenTempo (*time::parseRational ("3.576278")).ok());
    CHECK_FALSE (music::writtenTempo (Rational (0)).ok());
    CHECK_FALSE (music::writtenTempo (Rational (-120)).ok());
    CHECK_FALSE (music::writtenTempo (Rational (1, 0)).ok());
    CHECK (music::writtenTempo (Rational (60'000'000)).ok());
    CHECK_FALSE (music::writtenTempo (Rational (200'000'000)).ok());
}

TEST_CASE ("B34: beat 2000 of a long tempo is placed from what is written")
{
    for (const char* beats : { "97.3", "131.07" })
    {
        const auto wanted = *time::parseRational (beats);
        const auto map = TickMap::of ({ { 0, *music::writtenTempo (wanted) } });
        REQUIRE (map.ok());
        const auto beat2000 = Rational (2000 * 60) / wanted;
        const auto sounds = map->secondsAt (map->tickAt (beat2000));
        CHECK (distance (sounds, beat2000) <= halfTick (*map, beat2000));
        // The beat itself, were it counted in ticks, would be off by the rounding of all its beats.
        const auto drift = map->secondsAt (std::int64_t{ 2000 } * 960) - beat2000;
        CHECK (drift > Rational (5, 10000));
        CHECK (drift < Rational (10, 10000));
    }
}

TEST_CASE ("B34: 600 tempos in ten minutes add no error up")
{
    std::vector<music::TempoFrom> wanted;
    for (int i = 0; i < 600; ++i)
        wanted.push_back (
            { Rational (i) + Rational (i % 7, 9), *music::writtenTempo (Rational (60 + (i * 37) % 140) + Rational (1, 3)) });
    const auto map = TickMap::of (wanted);
    REQUIRE (map.ok());
    // The first is at zero, so no step is added for the format's own tempo.
    CHECK (map->steps().size() == 600);
    for (const auto& tempo : wanted)
        CHECK (distance (map->secondsAt (map->tickAt (tempo.seconds)), tempo.seconds)
               <= halfTick (*map, tempo.seconds) + Rational (1, 1000000));
    for (int hundredths = 0; hundredths < 60000; hundredths += 7)
    {
        const Rational moment (hundredths, 100);
        const auto off = distance (map->secondsAt (map->tickAt (moment)), moment);
        if (off > halfTick (*map, moment))
            FAIL_CHECK ("off by " << time::fractionText (off) << " at " << time::fractionText (moment));
    }
}

TEST_CASE ("a first tempo that is not at zero is kept, and the format's own holds before it")
{
    const auto map = TickMap::of ({ { Rational (10), *music::writtenTempo (Rational (60)) } });
    REQUIRE (map.ok());
    REQUIRE (map->steps().size() == 2);
    CHECK (map->steps()[0].tempo == WrittenTempo{});
    CHECK (map->steps()[1].tick == 10 * 2 * 960);
    CHECK (map->tickAt (Rational (11)) == 10 * 2 * 960 + 960);
    CHECK (map->tickAt (Rational (-3)) == 0);
}

TEST_CASE ("of two tempos on one tick the later in the list holds")
{
    const auto map = TickMap::of ({ { Rational (1), WrittenTempo{ 600000 } }, { Rational (1), WrittenTempo{ 400000 } } });
    REQUIRE (map->steps().size() == 2);
    CHECK (map->steps()[1].tempo.microsPerQuarter == 400000);
}

TEST_CASE ("resolutions outside the format are refused")
{
    CHECK_FALSE (TickMap::of ({}, 0).ok());
    CHECK_FALSE (TickMap::of ({}, 32768).ok());
    CHECK (TickMap::of ({}, 32767).ok());
}

TEST_CASE ("ticks and seconds are inverse for any tempos")
{
    CHECK_PROPERTY (
        [] (const std::vector<std::pair<unsigned short, unsigned short>>& events, unsigned tick)
        {
            std::vector<music::TempoFrom> wanted;
            for (const auto& [at, tempo] : events)
                wanted.push_back ({ Rational (at, 100), WrittenTempo{ 100000 + 30 * std::int64_t{ tempo } } });
            const auto map = TickMap::of (wanted);
            const std::int64_t there = tick % 2'000'000;
            return map.ok() && map->tickAt (map->secondsAt (there)) == there;
        });
}
