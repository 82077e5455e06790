#include "exchange/ListChecks.h"
#include "exchange/SampleBook.h"

#include "exchange/MidiCueFile.h"
#include "exchange/MidiRead.h"
#include "exchange/MidiTempo.h"
#include "music/WrittenMap.h"

#include <fstream>
#include <sstream>

using namespace shutterbeat;
using exchange::MidiMeta;
using exchange::MidiReading;
using music::Course;
using music::TempoMap;
using music::TempoPlan;
using time::Rational;

namespace
{
const exchange::ListHead undated{ "The Runaway Ladder", "" };

Rational distance (const Rational& a, const Rational& b)
{
    return a < b ? b - a : a - b;
}

MidiReading readBack (const std::string& bytes)
{
    auto reading = exchange::readMidiFile (bytes);
    REQUIRE (reading.ok());
    CHECK (reading->warnings.empty());
    return std::move (*reading);
}

/// A film of `seconds` at 24 film frames and delivered frames a second with one cue from `in` to its end.
spotting::Book oneCue (int seconds, std::int64_t in, const TempoPlan& plan)
{
    auto book = tests::plainBook ({ seconds * 24 }, Rational (24), "24");
    auto cue = tests::cueAt ("c-1", "1M1", in, seconds * 24, "Flood");
    cue.out = film::EdgePlace{ "s1", film::Edge::tail, std::int64_t{ 0 }, 0 };
    cue.tempo = *TempoMap::of (plan);
    book.cues = std::vector{ cue };
    return book;
}

TempoPlan steady (const Rational& tempo)
{
    TempoPlan plan;
    plan.tempos.front().beatsPerMinute = tempo;
    return plan;
}

spotting::HitPoint hitOf (const std::string& id, std::int64_t frame, const std::string& label)
{
    auto hit = tests::hitAt (id, frame, label);
    hit.cue = "c-1";
    return hit;
}

/// Exact seconds of a position through written steps.
Rational writtenTime (const std::vector<music::WrittenStep>& steps, const Rational& position)
{
    Rational seconds;
    for (std::size_t i = 0; i < steps.size(); ++i)
    {
        const auto end = i + 1 < steps.size() ? std::min (position, steps[i + 1].position) : position;
        if (end > steps[i].position)
            seconds += (end - steps[i].position) * steps[i].tempo.secondsPerQuarter();
    }
    return seconds;
}
} // namespace

TEST_CASE ("a cue's MIDI file counts its beats from bar 1, byte for byte")
{
    auto plan = steady (72);
    plan.meters = { { 1, *music::parseMeter ("6/8") } };
    plan.tempos.front().unit = Rational (3, 8);
    plan.keys = { { 1, -3, true } };
    auto book = oneCue (10, 36, plan);
    book.hits = std::vector{ hitOf ("a-1", 36 + 20, "Dør") };
    const auto written = exchange::writeMidiCues (tests::timed (book), undated);
    REQUIRE (written.ok());
    REQUIRE (written->parts.size() == 1);
    CHECK (written->parts[0].suffix == "-1M1");
    const auto& bytes = written->parts[0].bytes;
    const auto has = [&] (const std::string& part) { return bytes.find (part) != std::string::npos; };
    CHECK (has (std::string ("\x00\xFF\x54\x05\x01\x00\x01\x0C\x00", 9))); // 01:00:01:12
    CHECK (has (std::string ("\x00\xFF\x58\x04\x06\x03\x24\x08", 8)));     // 6/8, a click every dotted quarter
    CHECK (has (std::string ("\x00\xFF\x59\x02\xFD\x01", 6)));             // three flats, minor
    CHECK (has (std::string ("\x00\xFF\x51\x03\x08\x7A\x24", 7)));         // 108 quarter notes: 555555.6, rounded up 555556
    CHECK (has ("\xFF\x06\x09"
                "1M1 Flood"));
    // 20 frames are 0.8333 s: a dotted quarter at 72, 1440 ticks.
    CHECK (has (std::string ("\x8B\x20\xFF\x07\x04", 5) + "Dør"));
}

TEST_CASE ("B34: hits of a cue file stay within half a tick of their moment, at beat 2000 too")
{
    for (const auto& [tempo, micros] :
         std::vector<std::pair<std::string, std::int64_t>>{ { "97.3", 616650 }, { "131.07", 457771 } })
    {
        const auto wanted = *time::parseRational (tempo);
        const auto beat2000 = Rational (2000 * 60) / wanted;
        auto book = oneCue (1300, 0, steady (wanted));
        book.hits =
            std::vector{ hitOf ("a-1", 240, "early"), hitOf ("a-2", time::roundOf (beat2000 * Rational (24)), "beat 2000") };
        book.hits = std::vector{ book.hits[0], [&]
                                 {
                                     auto hit = book.hits[1];
                                     hit.lead = beat2000 - Rational (time::roundOf (beat2000 * Rational (24)), 24);
                                     return hit;
                                 }() };
        const auto written = exchange::writeMidiCues (tests::timed (book), undated);
        REQUIRE (written.ok());
        const auto reading = readBack (written->parts[0].bytes);
        REQUIRE (reading.tempos.size() == 1);
        CHECK (reading.tempos[0].microsPerQuarter == micros);
        REQUIRE (reading.cuePoints.size() == 2);
        const Rational halfTick (micros, 2 * 960 * std::int64_t{ 1'000'000 });
        CHECK (distance (reading.cuePoints[1].seconds, beat2000) <= halfTick);
        CHECK (distance (reading.cuePoints[0].seconds, 10) <= halfTick);
        // Shown as typed.
        const auto map = exchange::tempoMapOf (reading, "1M1", "Flood");
        REQUIRE (map.ok());
        CHECK (map->map.opening().beatsPerMinute == wanted);
    }
}

TEST_CASE ("ramps of handbook 4.5 are written in steps of at most a millisecond's error, and none adds up")
{
    struct Row
    {
        int first, last, beats;
    };
    for (const auto& row : std::vector<Row>{
             { 60, 120, 8 }, { 120, 90, 4 }, { 120, 60, 16 }, { 72, 144, 12 }, { 100, 101, 4 }, { 120, 40, 4 }, { 208, 40, 2 } })
        for (const auto course : { Course::rampInBeat, Course::rampInTime })
        {
            TempoPlan plan;
            plan.tempos = { { 0, 97, Rational (1, 4), Course::steady, {} },
                            { 7, row.first, Rational (1, 4), course, {} },
                            { 7 + row.beats, row.last, Rational (1, 4), Course::steady, {} } };
            const auto map = *TempoMap::of (plan);
            const auto steps = music::writtenSteps (map, 0, 960);
            REQUIRE (steps.ok());
            for (Rational at (0); at <= Rational (7 + row.beats + 40); at += Rational (1, 24))
                CHECK (distance (writtenTime (*steps, at), map.timeOf (at)) < Rational (1, 1000));
            for (std::size_t i = 1; i < steps->size(); ++i)
                CHECK (distance (writtenTime (*steps, (*steps)[i].position), map.timeOf ((*steps)[i].position))
                       < Rational (1, 100'000));
            CHECK (steps->size() < 2 + 45u * static_cast<unsigned> (row.beats));
        }
}

TEST_CASE ("600 tempos in ten minutes: every written beat within half a tick")
{
    TempoPlan plan;
    plan.tempos.clear();
    for (int i = 0; i < 600; ++i)
        plan.tempos.push_back (
            { 2 * i, Rational (9000 + 1237 * (i % 17), 100) + Rational (1, 3), Rational (1, 4), Course::steady, {} });
    const auto map = *TempoMap::of (plan);
    const auto steps = music::writtenSteps (map, 0, 960);
    REQUIRE (steps.ok());
    CHECK (steps->size() == 600);
    for (int beat = 0; beat < 1200; ++beat)
        CHECK (distance (writtenTime (*steps, beat), map.timeOf (beat)) < Rational (5, 1'000'000));
}

TEST_CASE ("a long hold on a short note is refused by its bar, on a longer one it is written")
{
    auto plan = steady (60);
    plan.stretches = { { 6, 7, 20, true } };
    const auto refused = exchange::writeMidiCues (tests::timed (oneCue (90, 0, plan)), undated);
    REQUIRE_FALSE (refused.ok());
    CHECK (refused.error().text().find ("1M1 Flood") != std::string::npos);
    CHECK (refused.error().text().find ("bar 2 beat 3, a hold") != std::string::npos);
    CHECK (refused.error().text().find ("longer note") != std::string::npos);
    plan.stretches = { { 6, 8, 20, true } };
    const auto written = exchange::writeMidiCues (tests::timed (oneCue (90, 0, plan)), undated);
    REQUIRE (written.ok());
    const auto reading = readBack (written->parts[0].bytes);
    REQUIRE (reading.tempos.size() == 3);
    CHECK (reading.tempos[1].microsPerQuarter == 10'000'000);
    CHECK (reading.tempos[2].seconds == Rational (26));
}

TEST_CASE ("a pickup is a short bar, and a file comes back as the map it was")
{
    TempoPlan plan;
    plan.pickup = 1;
    plan.meters = { { 1, *music::parseMeter ("4/4") }, { 3, *music::parseMeter ("3/4") }, { 4, *music::parseMeter ("6/8") } };
    plan.tempos = { { -1, Rational (9730, 100), Rational (1, 4), Course::steady, {} },
                    { 8, Rational (132), Rational (1, 4), Course::steady, {} } };
    auto book = oneCue (60, 48, plan);
    auto cue = book.cues[0];
    cue.barOne.hit = "a-1";
    book.cues = std::vector{ cue };
    auto hit = hitOf ("a-1", 75, "Door");
    hit.lead = Rational (-1, 48);
    book.hits = std::vector{ hit };
    const auto times = tests::timed (book);
    CHECK (times.cues[0].barOne == Rational (75, 24) - Rational (1, 48));
    const auto written = exchange::writeMidiCues (times, undated);
    REQUIRE (written.ok());
    const auto reading = readBack (written->parts[0].bytes);
    REQUIRE (reading.markers.size() == 1);
    CHECK (reading.markers[0].tick == 960);
    CHECK (reading.cuePoints[0].tick == 960);
    REQUIRE (reading.meters.size() == 4);
    CHECK (reading.meters[0].beats == 1);
    const auto back = exchange::tempoMapOf (reading, "1m1", "");
    REQUIRE (back.ok());
    CHECK (back->from == exchange::BarOneFrom::start);
    const auto again = exchange::tempoMapOf (reading, "1M1", "flood");
    REQUIRE (again.ok());
    CHECK (again->from == exchange::BarOneFrom::marker);
    CHECK (again->map.plan() == plan);
    // The offset says where tick 0 lies, to a hundredth of a frame.
    REQUIRE (reading.smpteOffset);
    const auto start = *times.cues[0].barOne + times.cues[0].cue.tempo->timeOf (-1) + Rational (3600);
    CHECK (distance (exchange::offsetSeconds (*reading.smpteOffset), start) <= Rational (1, 4800));
    CHECK (exchange::changesBetween (*cue.tempo, again->map, 12).empty());
    auto other = plan;
    other.tempos[1].beatsPerMinute = 130;
    other.meters[1].meter = *music::parseMeter ("2/4");
    other.pickup = 2;
    other.tempos[0].at = -2;
    const auto changes = exchange::changesBetween (*cue.tempo, *TempoMap::of (other), 12);
    REQUIRE (changes.size() >= 4);
    CHECK (tests::said (changes, "pickup: 1 quarter notes in the book, 2 in the file"));
    CHECK (tests::said (changes, "bar 3: 3/4 in the book, 2/4 in the file"));
    CHECK (tests::said (changes, "132.00 quarter notes a minute in the book, 130.00 in the file"));
    CHECK (tests::said (changes, "earlier than the book"));
}

TEST_CASE ("bar 1 is found by marker, by the bar named, by the SMPTE offset, or asked")
{
    MidiReading reading;
    reading.division = 480;
    reading.meters = { { 0, 4, 4 }, { 4 * 480 + 240, 3, 4 } };
    reading.tempos = { { 0, 0, 500000 }, { 2160, 0, 600000 } };
    CHECK_FALSE (exchange::tempoMapOf (reading, "1M1", "").ok());
    CHECK (exchange::tempoMapOf (reading, "1M1", "").error().text().find ("which of its bars") != std::string::npos);
    const auto third = exchange::tempoMapOf (reading, "1M1", "", 3);
    REQUIRE (third.ok());
    CHECK (third->barOneTick == 2160);
    CHECK (third->map.opening().beatsPerMinute == Rational (100));
    CHECK (tests::said (third->notes, "comes inside bar 2; that bar is 1/8"));
    reading.smpteOffset = std::array<unsigned char, 5>{ 0x41, 0, 0, 0, 0 };
    const auto start = exchange::tempoMapOf (reading, "1M1", "");
    REQUIRE (start.ok());
    CHECK (start->from == exchange::BarOneFrom::start);
    CHECK (start->map.plan().meters.size() == 3);
    reading.markers = { { 2160, 0, " 1m1 ", 0 } };
    CHECK (exchange::tempoMapOf (reading, "1M1", "x")->barOneTick == 2160);
    CHECK (exchange::namesCue ("1M1 Køkkenet", "1M1", "Køkkenet"));
    CHECK_FALSE (exchange::namesCue ("1M12", "1M1", ""));
    reading.division = -0x6800 + 80;
    CHECK_FALSE (exchange::tempoMapOf (reading, "1M1", "").ok());
    CHECK (exchange::offsetSeconds ({ 0x41, 0, 0, 0, 0 }) == Rational (107892) * Rational (1001, 30000));
    CHECK (exchange::offsetSeconds ({ 0x21, 0, 1, 12, 50 }) == Rational (3601) + Rational (1, 2));
}

TEST_CASE ("a cue before picture start has its offset on the day before")
{
    auto book = oneCue (60, 0, steady (60));
    auto edition = book.editions[0];
    edition.reels[0].startLabel = "00:00:00:00";
    book.editions = std::vector{ edition };
    auto cue = book.cues[0];
    cue.in = film::OutsidePlace{ false, Rational (-4) };
    book.cues = std::vector{ cue };
    const auto written = exchange::writeMidiCues (tests::timed (book), undated);
    REQUIRE (written.ok());
    CHECK (readBack (written->parts[0].bytes).smpteOffset == std::array<unsigned char, 5>{ 23, 59, 56, 0, 0 });
    CHECK (tests::said (written->notes, "day before"));
}

TEST_CASE ("cues without a tempo, tacet or lost are left out by name: no cue at all is refused")
{
    auto book = oneCue (60, 0, steady (60));
    auto tacet = book.cues[0];
    tacet.id = "c-2";
    tacet.number = "1M2";
    tacet.kind = spotting::CueKind::tacet;
    auto bare = book.cues[0];
    bare.id = "c-3";
    bare.number = "1M3";
    bare.tempo.reset();
    auto lost = book.cues[0];
    lost.id = "c-4";
    lost.number = "1M4";
    lost.barOne.hit = "gone-1";
    book.cues = std::vector{ book.cues[0], tacet, bare, lost };
    const auto times = tests::timed (book);
    CHECK (tests::said (times.notes, "bar 1 of cue 1M4 has lost its place: the book has no hit gone-1"));
    const auto written = exchange::writeMidiCues (times, undated);
    REQUIRE (written.ok());
    CHECK (written->parts.size() == 1);
    CHECK (tests::said (written->notes, "1M2 Flood is left out: it is tacet"));
    CHECK (tests::said (written->notes, "1M3 Flood is left out: it has no tempo yet"));
    CHECK (tests::said (written->notes, "1M4 Flood is left out: it has lost its place"));
    CHECK_FALSE (exchange::writeMidiCues (times, undated, {}, "c-3").ok());
    CHECK_FALSE (exchange::writeMidiCues (times, undated, {}, "c-9").ok());
}

TEST_CASE ("real tempo maps are read and written back within half a tick")
{
    const auto folder = tests::testData ("data/interchange/midi/");
    if (! std::ifstream (folder + "tonejs_claire_de_lune_733_tempos.mid"))
    {
        WARN ("skipped: no real MIDI files at " << folder);
        return;
    }
    std::size_t most = 0;
    for (const char* name :
         { "asap_schumann_kreisleriana1_score.mid", "music21_test04.mid", "music21_test09.mid",
           "pretty_midi_example_420_tempos.mid", "tonejs_TheEntertainer.mid", "tonejs_bartok_165_tempos_36_timesigs.mid",
           "tonejs_beat_smpteoffset_30fps.mid", "tonejs_claire_de_lune_733_tempos.mid" })
    {
        INFO (name);
        std::ifstream file (folder + name, std::ios::binary);
        std::stringstream bytes;
        bytes << file.rdbuf();
        const auto reading = exchange::readMidiFile (bytes.str());
        REQUIRE (reading.ok());
        const auto map = exchange::tempoMapOf (*reading, "", "", 1);
        REQUIRE (map.ok());
        most = std::max (most, map->map.plan().tempos.size());
        for (const int resolution : { reading->division, 960 })
        {
            const Rational quarter (reading->division), last (reading->lastTick, reading->division);
            auto events = exchange::mapEvents (map->map, 0, last, resolution);
            REQUIRE (events.ok());
            const auto whole = exchange::midiFile (*events, name, time::ceilOf (last * Rational (resolution)), resolution);
            REQUIRE (whole.ok());
            const auto again = readBack (*whole);
            const auto back = exchange::tempoMapOf (again, "", "", 1);
            REQUIRE (back.ok());
            CHECK (back->map.plan().meters == map->map.plan().meters);
            // Every eighth of the file and every tempo change, against the exact time in the file that was read.
            std::vector<Rational> moments;
            for (Rational at (0); at <= last; at += Rational (1, 2))
                moments.push_back (at);
            for (const auto& tempo : reading->tempos)
                moments.push_back (Rational (tempo.tick) / quarter);
            Rational slowest;
            for (const auto& tempo : reading->tempos)
                slowest = std::max (slowest, Rational (tempo.microsPerQuarter, 1'000'000));
            for (const auto& at : moments)
            {
                const auto here = std::max (Rational (60) / map->map.tempoAt (at),
                                            Rational (60) / map->map.tempoAt (at - Rational (1, resolution)));
                const auto half = here / Rational (2 * resolution);
                const auto off = distance (back->map.timeOf (at), map->map.timeOf (at));
                if (off > half)
                    FAIL_CHECK ("off by " << time::fractionText (off) << " at quarter " << time::fractionText (at)
                                          << ", resolution " << resolution);
            }
        }
        // The map's times are the file's own, but for a microsecond a quarter: a tempo that was written from two decimals
        // is read as those.
        std::int64_t tick = 0, micros = 500000;
        Rational seconds;
        for (const auto& tempo : reading->tempos)
        {
            seconds += Rational (tempo.tick - tick) * Rational (micros, 1'000'000) / Rational (reading->division);
            tick = tempo.tick;
            micros = tempo.microsPerQuarter;
            const Rational at (tick, reading->division);
            CHECK (distance (map->map.timeOf (at), seconds) <= at / Rational (1'000'000));
        }
    }
    CHECK (most > 700);
}
