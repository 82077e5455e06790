#include "Catch.h"

#include "music/NoteValue.h"
#include "music/RampLaw.h"
#include "music/TempoMap.h"

#include <cmath>

using namespace shutterbeat;
using music::BarBeat;
using music::Course;
using music::TempoMap;
using music::TempoPlan;
using time::Rational;

namespace
{
TempoMap mapOf (TempoPlan plan)
{
    auto map = TempoMap::of (std::move (plan));
    if (! map)
        FAIL (map.error().text());
    return *map;
}

void refused (TempoPlan plan, const std::string& part)
{
    const auto map = TempoMap::of (std::move (plan));
    REQUIRE_FALSE (map.ok());
    if (map.error().text().find (part) == std::string::npos)
        FAIL_CHECK (map.error().text());
}

TempoPlan ramp (int first, int last, int beats, Course course)
{
    TempoPlan plan;
    plan.tempos = { { 0, first, Rational (1, 4), course, {} }, { beats, last, Rational (1, 4), Course::steady, {} } };
    return plan;
}

Rational decimal (const std::string& text)
{
    return *time::parseRational (text);
}

bool within (const Rational& a, const Rational& b, const Rational& most)
{
    return a - b <= most && b - a <= most;
}

/// Seconds through a plan by adding up a million small steps: knows nothing of closed forms.
double integrated (const TempoPlan& plan, double to)
{
    const auto& a = plan.tempos[0];
    const auto& b = plan.tempos[1];
    const double first = time::toDouble (a.beatsPerMinute), last = time::toDouble (b.beatsPerMinute),
                 length = time::toDouble (b.at);
    const int steps = 400000;
    double seconds = 0;
    for (int i = 0; i < steps; ++i)
    {
        const double x = to * (i + 0.5) / steps / length;
        const double tempo = a.course == Course::rampInBeat ? first + (last - first) * x
                                                            : std::sqrt (first * first + (last * last - first * first) * x);
        seconds += 60 / tempo * to / steps;
    }
    return seconds;
}
} // namespace

TEST_CASE ("beats of the ramps of handbook 4.5")
{
    const auto check = [] (const TempoPlan& plan, const std::vector<std::string>& beats)
    {
        const auto map = mapOf (plan);
        for (std::size_t i = 0; i < beats.size(); ++i)
            CHECK (within (map.timeOf (Rational (static_cast<int> (i))), decimal (beats[i]), Rational (51, 100'000'000)));
    };
    check (ramp (60, 120, 8, Course::rampInBeat),
           { "0", "0.942264", "1.785148", "2.547630", "3.243721", "3.884063", "4.476926", "5.028869", "5.545177" });
    check (ramp (60, 120, 8, Course::rampInTime),
           { "0", "0.920554", "1.722003", "2.441269", "3.099407", "3.709773", "4.281470", "4.821031", "5.333333" });
}

TEST_CASE ("whole and half of the ramps of handbook 4.5")
{
    struct Row
    {
        int first, last, beats;
        std::string wholeBeat, wholeTime, halfBeat, halfTime;
    };
    const std::vector<Row> rows{
        { 60, 120, 8, "5.545177", "5.333333", "3.243721", "3.099407" },
        { 120, 90, 4, "2.301457", "2.285714", "1.068251", "1.061637" },
        { 120, 60, 16, "11.090355", "10.666667", "4.602913", "4.467852" },
        { 72, 144, 12, "6.931472", "6.666667", "4.054651", "3.874259" },
        { 100, 101, 4, "2.388079", "2.388060", "1.197010", "1.197000" },
    };
    for (const auto& row : rows)
    {
        const auto inBeat = mapOf (ramp (row.first, row.last, row.beats, Course::rampInBeat));
        const auto inTime = mapOf (ramp (row.first, row.last, row.beats, Course::rampInTime));
        CHECK (time::decimalText (inBeat.timeOf (row.beats), 6) == row.wholeBeat);
        CHECK (time::decimalText (inTime.timeOf (row.beats), 6) == row.wholeTime);
        CHECK (time::decimalText (inBeat.timeOf (row.beats / 2), 6) == row.halfBeat);
        CHECK (time::decimalText (inTime.timeOf (row.beats / 2), 6) == row.halfTime);
        for (const auto course : { Course::rampInBeat, Course::rampInTime })
        {
            const auto plan = ramp (row.first, row.last, row.beats, course);
            CHECK (time::toDouble (mapOf (plan).timeOf (Rational (row.beats, 3)))
                   == Approx (integrated (plan, row.beats / 3.0)).epsilon (1e-9));
        }
    }
    // The wrong published formula would give -3.937 for the second row.
    CHECK (mapOf (ramp (120, 90, 4, Course::rampInBeat)).timeOf (4) > 0);
}

TEST_CASE ("times of a ramp are whole nanoseconds and nearly equal tempos lose nothing")
{
    const auto map = mapOf (ramp (60, 120, 8, Course::rampInBeat));
    for (int i = 1; i < 64; ++i)
        CHECK ((map.timeOf (Rational (i, 8)) * Rational (1'000'000'000)).isWhole());
    for (const auto course : { Course::rampInBeat, Course::rampInTime })
    {
        const music::RampLaw law{ 100, 100 * (1 + 1e-12L), 300, course };
        CHECK (static_cast<double> (law.secondsAt (300)) == Approx (180).epsilon (1e-11));
        CHECK (static_cast<double> (law.quartersAt (180)) == Approx (300).epsilon (1e-11));
        const music::RampLaw level{ 100, 100, 300, course };
        CHECK (static_cast<double> (level.secondsAt (300)) == Approx (180).epsilon (1e-15));
    }
}

TEST_CASE ("steady tempos are exact, and a constant tempo is found from beats and seconds")
{
    const auto map = *TempoMap::steady (Rational (1440, 13));
    CHECK (map.timeOf (12) == Rational (13, 2));
    CHECK (map.beatOf (Rational (13, 2)) == Rational (12));
    CHECK (map.timeOf (-4) == Rational (-13, 6));
    CHECK (map.timeOf (Rational (1, 3)) == Rational (13, 72));
}

TEST_CASE ("time and position are inverse within a microsecond, through ramps, holds and free passages")
{
    CHECK_PROPERTY (
        [] (const std::vector<std::pair<unsigned char, unsigned char>>& steps, const std::vector<unsigned short>& moments,
            unsigned pick)
        {
            TempoPlan plan;
            plan.tempos.clear();
            Rational at (-3);
            for (const auto& [tempo, kind] : steps)
            {
                plan.tempos.push_back (
                    { at, Rational (40 + tempo) + Rational (kind, 7), Rational (1, 4), static_cast<Course> (kind % 3), {} });
                if (kind % 3 == 0 && kind % 2 == 0)
                    plan.stretches.push_back (
                        { at + Rational (1, 2), at + Rational (3, 2), Rational (1 + kind, 30), kind % 4 == 0 });
                at += Rational (2 + kind % 5) + Rational (kind % 4, 3);
            }
            plan.tempos.push_back ({ at, 90, Rational (1, 4), Course::steady, {} });
            const auto map = TempoMap::of (plan);
            RC_ASSERT (map.ok());
            RC_ASSERT (map->timeOf (0) == Rational (0));
            Rational before (-1000), was = map->timeOf (before);
            for (std::size_t i = 0; i < moments.size() + 1; ++i)
            {
                const Rational seconds (static_cast<int> (i < moments.size() ? moments[i] % 6000 : pick % 6000) - 300, 37);
                RC_ASSERT (within (map->timeOf (map->beatOf (seconds)), seconds, Rational (1, 1'000'000)));
            }
            for (Rational b (-10); b < at + Rational (5); b += Rational (1, 4))
            {
                const auto now = map->timeOf (b);
                RC_ASSERT (now > was);
                was = now;
            }
        });
}

TEST_CASE ("many odd tempos do not outgrow exact arithmetic")
{
    TempoPlan plan;
    plan.tempos.clear();
    for (int i = 0; i < 700; ++i)
        plan.tempos.push_back ({ 2 * i, Rational (60'000'000, 500'009 + 7919 * (i % 61)), Rational (1, 4), Course::steady, {} });
    const auto map = mapOf (plan);
    double seconds = 0;
    for (int i = 0; i < 700; ++i)
        seconds += 2 * (500'009 + 7919 * (i % 61)) / 1e6;
    CHECK (map.timeOf (1400).valid());
    CHECK (time::toDouble (map.timeOf (1400)) == Approx (seconds).epsilon (1e-12));
}

TEST_CASE ("bars and beats in simple, compound and odd meters, with a pickup")
{
    TempoPlan plan;
    plan.pickup = 1;
    plan.meters = { { 1, *music::parseMeter ("4/4") },
                    { 3, *music::parseMeter ("6/8") },
                    { 5, *music::parseMeter ("7/8(2+2+3)") },
                    { 6, *music::parseMeter ("5/4") } };
    const auto map = mapOf (plan);
    const auto at = [&] (const Rational& position) { return music::barBeatText (map.barBeatOf (position)); };
    CHECK (at (0) == "bar 1 beat 1");
    CHECK (at (-1) == "bar 0 beat 4");
    CHECK (at (-5) == "bar -1 beat 4");
    CHECK (at (Rational (9, 2)) == "bar 2 beat 1+1/2");
    CHECK (at (8) == "bar 3 beat 1");
    CHECK (at (Rational (19, 2)) == "bar 3 beat 2");
    CHECK (at (11) == "bar 4 beat 1");
    CHECK (at (14) == "bar 5 beat 1");
    CHECK (at (16) == "bar 5 beat 3");
    CHECK (at (Rational (35, 2)) == "bar 6 beat 1");
    CHECK (at (Rational (45, 2)) == "bar 7 beat 1");
    CHECK (map.start() == Rational (-1));
    for (Rational x (-20); x < 60; x += Rational (1, 6))
        CHECK (*map.positionOf (map.barBeatOf (x)) == x);
    for (const char* text : { "bar 12 beat 3", "bar 12 beat 3+1/2", "bar 0 beat 4", "bar -1 beat 2" })
        CHECK (music::barBeatText (*music::parseBarBeat (text)) == text);
    CHECK (*music::parseBarBeat ("12.3+1/2") == BarBeat{ 12, 3, 0, Rational (1, 2) });
    CHECK (music::parseBarBeat ("7")->beat == 1);
    for (const char* text : { "", "x", "12.0", "12.3.4", "12.3+1", "12.3+2/1" })
        CHECK_FALSE (music::parseBarBeat (text).ok());
    CHECK_FALSE (map.positionOf ({ 5, 4, 0, 0 }).ok());
}

TEST_CASE ("a tempo counts the note value it names")
{
    TempoPlan plan;
    plan.meters = { { 1, *music::parseMeter ("6/8") } };
    plan.tempos = { { 0, 80, *music::parseNoteValue ("dotted quarter"), Course::steady, {} } };
    const auto map = mapOf (plan);
    CHECK (map.timeOf (3) == Rational (3, 2));
    CHECK (map.tempoAt (0) == Rational (120));
    CHECK (music::noteValueName (Rational (3, 8)) == "dotted quarter");
    CHECK (music::noteValueName (Rational (5, 8)) == "5/8");
    CHECK_FALSE (music::parseNoteValue ("crotchety").ok());
    // A ramp's end in another unit than its start.
    plan.tempos = { { 0, 60, Rational (1, 4), Course::rampInTime, {} }, { 8, 60, Rational (1, 2), Course::steady, {} } };
    CHECK (time::decimalText (mapOf (plan).timeOf (8), 6) == "5.333333");
    // Or its own end, with a jump to the next tempo.
    plan.tempos = { { 0, 60, Rational (1, 4), Course::rampInTime, Rational (120) },
                    { 8, 90, Rational (1, 4), Course::steady, {} } };
    CHECK (time::decimalText (mapOf (plan).timeOf (8), 6) == "5.333333");
    CHECK (mapOf (plan).tempoAt (8) == Rational (90));
}

TEST_CASE ("meters are read as they are written")
{
    for (const char* text : { "4/4", "6/8", "7/8(2+2+3)", "3/8(3)", "64/64", "1/1" })
        CHECK (music::meterText (*music::parseMeter (text)) == text);
    for (const char* text : { "", "4", "4/3", "0/4", "65/4", "7/8(2+2)", "7/8(2+2+3", "7/8(0+7)", "4/4/4" })
        CHECK_FALSE (music::parseMeter (text).ok());
    CHECK (music::beatLengths (*music::parseMeter ("12/8")) == std::vector<Rational> (4, Rational (3, 2)));
    CHECK (music::beatLengths (*music::parseMeter ("3/8")) == std::vector<Rational> (3, Rational (1, 2)));
    CHECK (*music::meterOfLength (Rational (7, 2)) == *music::parseMeter ("7/8"));
    CHECK_FALSE (music::meterOfLength (Rational (1, 3)).ok());
}

TEST_CASE ("a hold stands still and what follows comes later by it")
{
    TempoPlan plan;
    plan.tempos.front().beatsPerMinute = 60;
    plan.stretches = { { 4, 5, 20, true }, { 8, 16, Rational (25, 2), false } };
    const auto map = mapOf (plan);
    CHECK (map.timeOf (4) == Rational (4));
    CHECK (map.timeOf (5) == Rational (24));
    CHECK (map.timeOf (8) == Rational (27));
    CHECK (map.timeOf (16) == Rational (79, 2));
    CHECK (map.timeOf (17) == Rational (81, 2));
    CHECK (map.beatOf (14) == Rational (9, 2));
    CHECK (map.stretchAt (Rational (9, 2))->hold);
    CHECK (map.stretchAt (5) == nullptr);
    CHECK_FALSE (map.stretchAt (10)->hold);
}

TEST_CASE ("bars that stay on a picture that runs faster")
{
    auto plan = ramp (60, 120, 8, Course::rampInBeat);
    plan.stretches = { { 10, 11, 6, true } };
    const auto map = mapOf (plan);
    const auto faster = music::scaled (map, Rational (22, 20));
    REQUIRE (faster.ok());
    for (int b = 0; b < 20; ++b)
        CHECK (within (faster->timeOf (b) * Rational (22, 20), map.timeOf (b), Rational (4, 1'000'000'000)));
    CHECK_FALSE (music::scaled (map, Rational (0)).ok());
    CHECK_FALSE (music::scaled (map, Rational (100)).ok());
}

TEST_CASE ("plans that make no sense name the place")
{
    TempoPlan plan;
    plan.tempos = { { 0, 0, Rational (1, 4), Course::steady, {} } };
    refused (plan, "tempo at quarter 0");
    plan.tempos = { { 0, 1001, Rational (1, 4), Course::steady, {} } };
    refused (plan, "0.01 to 1000");
    plan.tempos = { { 0, 90, Rational (1, 4), Course::rampInTime, {} } };
    refused (plan, "needs another change");
    plan.tempos = { { 4, 90, Rational (1, 4), Course::steady, {} }, { 4, 91, Rational (1, 4), Course::steady, {} } };
    refused (plan, "in order");
    plan.tempos = {};
    refused (plan, "has to be one");
    plan = ramp (60, 90, 8, Course::steady);
    plan.stretches = { { 7, 9, 2, true } };
    refused (plan, "tempo change inside");
    plan = ramp (60, 90, 8, Course::rampInTime);
    plan.stretches = { { 6, 7, 2, true } };
    refused (plan, "lies in a ramp");
    plan = {};
    plan.stretches = { { 6, 6, 2, true } };
    refused (plan, "end after it begins");
    plan.stretches = { { 6, 8, 2, true }, { 7, 9, 2, false } };
    refused (plan, "before the one before it");
    plan.stretches = { { 6, 8, 0, false } };
    refused (plan, "free passage at quarter 6");
    plan = {};
    plan.pickup = 4;
    refused (plan, "pickup of 4");
    plan = {};
    plan.meters = { { 2, {} } };
    refused (plan, "bar 1's");
    plan.meters = { { 1, {} }, { 1, {} } };
    refused (plan, "in order of their bars");
    plan = {};
    plan.keys = { { 1, 8, false } };
    refused (plan, "key at bar 1");
}
