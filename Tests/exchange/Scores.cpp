#include "exchange/ListChecks.h"
#include "exchange/SampleBook.h"

#include "exchange/MusicXmlFile.h"
#include "exchange/MusicXmlRead.h"
#include "exchange/WavFile.h"

#include <pugixml.hpp>

#include <cmath>
#include <cstring>
#include <fstream>
#include <iterator>

using namespace shutterbeat;
using music::Course;
using music::TempoMap;
using music::TempoPlan;
using time::Rational;

namespace
{

spotting::Book oneCue (int seconds, const TempoPlan& plan)
{
    auto book = tests::plainBook ({ seconds * 24 }, Rational (24), "24");
    auto cue = tests::cueAt ("c-1", "1M1", 0, seconds * 24, "Flood");
    cue.out = film::EdgePlace{ "s1", film::Edge::tail, std::int64_t{ 0 }, 0 };
    cue.tempo = *TempoMap::of (plan);
    book.cues = std::vector{ cue };
    return book;
}

struct Parsed
{
    pugi::xml_document document;
    pugi::xml_node part;
};

void parse (const spotting::Book& book, Parsed& into)
{
    const auto written = exchange::writeMusicXml (tests::timed (book), tests::head);
    REQUIRE (written.ok());
    REQUIRE (written->parts.size() == 1);
    REQUIRE (into.document.load_string (written->parts[0].bytes.c_str()));
    into.part = into.document.child ("score-partwise").child ("part");
}

/// Seconds of every bar start and of the end, played from sound elements alone, as a simple program would.
std::vector<double> played (const pugi::xml_node& part)
{
    std::vector<double> starts;
    double seconds = 0, divisions = 0, tempo = 0;
    for (const auto& measure : part.children ("measure"))
    {
        starts.push_back (seconds);
        if (const auto node = measure.child ("attributes").child ("divisions"))
            divisions = node.text().as_double();
        double length = 0;
        for (const auto& note : measure.children ("note"))
            length += note.child ("duration").text().as_double();
        double at = 0;
        for (const auto& direction : measure.children ("direction"))
            if (const auto sound = direction.child ("sound"))
            {
                const double offset = direction.child ("offset").text().as_double();
                if (offset > at)
                    seconds += (offset - at) / divisions * 60 / tempo;
                at = std::max (at, offset);
                tempo = sound.attribute ("tempo").as_double();
            }
        REQUIRE (tempo > 0);
        seconds += (length - at) / divisions * 60 / tempo;
    }
    starts.push_back (seconds);
    return starts;
}
} // namespace

TEST_CASE ("B43: a pickup is bar 0 with its tempo in it, and bars begin where they should")
{
    TempoPlan plan;
    plan.pickup = 1;
    plan.tempos = { { -1, 72, Rational (1, 4), Course::steady, {} },
                    { 4, 96, Rational (1, 4), Course::steady, {} },
                    { 8, 54, Rational (1, 4), Course::steady, {} } };
    auto book = oneCue (10, plan);
    auto cue = book.cues[0];
    cue.barOne.seconds = Rational (5, 6);
    // The music ends with its third bar: 11.1111 s from its start.
    cue.out = film::PicturePlace{ "p1", 239, 0 };
    book.cues = std::vector{ cue };
    Parsed score;
    parse (book, score);
    std::vector<std::string> numbers;
    for (const auto& measure : score.part.children ("measure"))
        numbers.push_back (measure.attribute ("number").value());
    CHECK (numbers == std::vector<std::string>{ "0", "1", "2", "3" });
    const auto pickup = score.part.child ("measure");
    CHECK (pickup.attribute ("implicit").value() == std::string ("yes"));
    CHECK_FALSE (pickup.child ("note").child ("rest").attribute ("measure"));
    CHECK (pickup.child ("direction").child ("sound").attribute ("tempo").value() == std::string ("72"));
    CHECK (pickup.child ("direction").child ("direction-type").child ("metronome").child ("per-minute").text().get()
           == std::string ("72"));
    const auto divisions = pickup.child ("attributes").child ("divisions").text().as_int();
    CHECK (divisions % 7 == 0);
    CHECK (pickup.child ("note").child ("duration").text().as_int() == divisions);
    const auto starts = played (score.part);
    REQUIRE (starts.size() == 5);
    CHECK (starts[1] == Approx (.8333).margin (5e-5));
    CHECK (starts[2] == Approx (4.1667).margin (5e-5));
    CHECK (starts[3] == Approx (6.6667).margin (5e-5));
    CHECK (starts[4] == Approx (11.1111).margin (5e-5));
    // The durations of each bar add up exactly.
    for (const auto& measure : score.part.children ("measure"))
    {
        int length = 0;
        for (const auto& note : measure.children ("note"))
            length += note.child ("duration").text().as_int();
        CHECK (length == (measure == pickup ? divisions : 4 * divisions));
    }
}

TEST_CASE ("hits stand above the bar at their beat, musts with a rehearsal mark")
{
    TempoPlan plan;
    plan.tempos.front().beatsPerMinute = 120;
    plan.meters = { { 1, *music::parseMeter ("4/4") }, { 3, *music::parseMeter ("7/8(2+2+3)") } };
    plan.keys = { { 1, 2, false }, { 2, -1, true } };
    auto book = oneCue (20, plan);
    auto must = tests::hitAt ("a-1", 60, "“Stå!” <&>");
    must.cue = "c-1";
    must.weight = spotting::Weight::must;
    auto may = tests::hitAt ("a-2", 102, "Door");
    may.cue = "c-1";
    may.lead = Rational (1, 4);
    book.hits = std::vector{ must, may };
    Parsed score;
    parse (book, score);
    auto measure = score.part.child ("measure").next_sibling ("measure");
    // 2.5 s at 120 is quarter 5: bar 2 beat 2; 4.25 + .25 s is quarter 9, a beat into bar 3.
    auto direction = measure.child ("direction");
    CHECK (direction.child ("direction-type").child ("rehearsal").text().get() == std::string ("A"));
    CHECK (direction.child ("offset").text().as_int() == 1680);
    direction = direction.next_sibling ("direction");
    CHECK (direction.child ("direction-type").child ("words").text().get() == std::string ("“Stå!” <&> (0:02.50)"));
    CHECK (measure.child ("attributes").child ("key").child ("fifths").text().as_int() == -1);
    CHECK_FALSE (measure.child ("attributes").child ("time"));
    measure = measure.next_sibling ("measure");
    CHECK (measure.child ("attributes").child ("time").child ("beats").text().get() == std::string ("2+2+3"));
    CHECK (measure.child ("direction").child ("direction-type").child ("words").text().get() == std::string ("Door (0:04.50)"));
    CHECK (measure.child ("direction").child ("offset").text().as_int() == 1680);
    CHECK (score.document.child ("score-partwise").child ("identification").child ("encoding").child ("encoding-date").text().get()
           == std::string ("2026-05-01"));
}

TEST_CASE ("ramps, holds and free passages in a score")
{
    TempoPlan plan;
    plan.tempos = { { 0, 60, Rational (1, 4), Course::rampInTime, {} },
                    { 8, 120, Rational (1, 4), Course::steady, {} },
                    { 16, 60, Rational (3, 8), Course::steady, {} } };
    plan.stretches = { { 10, 11, 4, true }, { 20, 24, 12, false } };
    Parsed score;
    parse (oneCue (60, plan), score);
    std::string words;
    for (const auto& found : score.document.select_nodes ("//words"))
        words += std::string (found.node().text().get()) + "|";
    CHECK (words == "accel.|free, 12 s|a tempo|");
    CHECK (score.document.select_nodes ("//fermata").size() == 1);
    const auto third = score.document.select_node ("//measure[@number='3']").node();
    std::vector<int> rests;
    for (const auto& note : third.children ("note"))
        rests.push_back (note.child ("duration").text().as_int());
    CHECK (rests == std::vector<int>{ 2 * 1680, 1680, 1680 });
    CHECK (score.document.select_node ("//measure[@number='5']//beat-unit-dot"));
    // The beat by beat tempos of the ramp bring the next bar near its time.
    CHECK (played (score.part)[2] == Approx (5.333).margin (.3));
}

TEST_CASE ("no score for cues without a tempo")
{
    auto book = oneCue (10, {});
    auto bare = book.cues[0];
    bare.tempo.reset();
    bare.id = "c-2";
    auto same = book.cues[0];
    same.id = "c-3";
    book.cues = std::vector{ book.cues[0], bare, same };
    const auto written = exchange::writeMusicXml (tests::timed (book), tests::head);
    REQUIRE (written.ok());
    CHECK (written->notes.size() == 1);
    REQUIRE (written->parts.size() == 2);
    CHECK (written->parts[1].suffix == "-1M1-c-3");
    book.cues = std::vector{ bare };
    CHECK_FALSE (exchange::writeMusicXml (tests::timed (book), tests::head).ok());
    CHECK_FALSE (exchange::writeMusicXml (tests::timed (book), tests::head, "c-9").ok());
}

TEST_CASE ("a score reads back as the map it was written from")
{
    TempoPlan plan;
    plan.pickup = 1;
    plan.meters = { { 1, *music::parseMeter ("4/4") },
                    { 3, *music::parseMeter ("7/8(2+2+3)") },
                    { 4, *music::parseMeter ("6/8") } };
    plan.tempos = { { -1, Rational (973, 10), Rational (1, 4), Course::steady, {} },
                    { 8, 54, Rational (1, 4), Course::steady, {} },
                    { Rational (23, 2), 80, Rational (3, 8), Course::steady, {} } };
    plan.keys = { { 1, 2, false }, { 3, -1, true } };
    const auto written = exchange::writeMusicXml (tests::timed (oneCue (30, plan)), tests::head);
    REQUIRE (written.ok());
    const auto read = exchange::readMusicXml (written->parts[0].bytes);
    REQUIRE (read.ok());
    CHECK (read->map.plan() == plan);
    CHECK (read->notes.empty());
}

TEST_CASE ("B43: a tempo counts as sound in a direction, as bare sound, and as a metronome mark alone")
{
    const std::string head0 = "<?xml version=\"1.0\"?><score-partwise version=\"4.0\"><part-list/><part id=\"P1\">";
    const std::string rest4 = "<note><rest measure=\"yes\"/><duration>1680</duration></note></measure>";
    const auto read = exchange::readMusicXml (
        head0
        + "<measure number=\"0\" "
          "implicit=\"yes\"><attributes><divisions>420</divisions><time><beats>4</beats><beat-type>4</beat-type></time></"
          "attributes>"
          "<sound tempo=\"72\"/><note><rest/><duration>420</duration></note></measure>"
          "<measure number=\"1\">"
        + rest4
        + "<measure "
          "number=\"2\"><direction><direction-type><metronome><beat-unit>half</beat-unit><per-minute>48</per-minute></metronome></"
          "direction-type></direction>"
        + rest4
        + "<measure number=\"3\"><direction><direction-type><words>slow</words></direction-type><sound tempo=\"54\"/></direction>"
        // Seven in the time of four, and a note tied over the bar line.
        + "<note><pitch/><duration>60</duration></note><note><pitch/><duration>60</duration></note><note><pitch/><duration>60</"
          "duration></note>"
          "<note><pitch/><duration>60</duration></note><note><pitch/><duration>60</duration></note><note><pitch/><duration>60</"
          "duration></note>"
          "<note><pitch/><duration>60</duration></note><note><pitch/><duration>1260</duration><tie "
          "type=\"start\"/></note></measure></part></score-partwise>");
    REQUIRE (read.ok());
    const auto& map = read->map;
    const auto start = map.timeOf (map.start());
    CHECK (time::decimalText (map.timeOf (0) - start, 4) == "0.8333");
    CHECK (time::decimalText (map.timeOf (map.barStart (2)) - start, 4) == "4.1667");
    CHECK (time::decimalText (map.timeOf (map.barStart (3)) - start, 4) == "6.6667");
    CHECK (time::decimalText (map.timeOf (map.barStart (4)) - start, 4) == "11.1111");
    CHECK (read->notes.empty());
}

TEST_CASE ("real scores are read, and what is no score is refused")
{
    CHECK_FALSE (exchange::readMusicXml ("").ok());
    CHECK_FALSE (exchange::readMusicXml ("<html/>").ok());
    CHECK_FALSE (exchange::readMusicXml ("<score-partwise><part id=\"P1\"/></score-partwise>").ok());
    CHECK_FALSE (exchange::readMusicXml ("<score-timewise/>").ok());
    CHECK (exchange::readMusicXml ("PK\3\4").error().text().find ("compressed") != std::string::npos);
    const auto folder = tests::testData ("data/interchange/musicxml/");
    if (! std::ifstream (folder + "suite_46d-PickupMeasure-ImplicitMeasures.xml"))
    {
        WARN ("skipped: no real scores at " << folder);
        return;
    }
    for (const char* name :
         { "asap_bach_bwv846_prelude.musicxml", "suite_03d-Rhythm-DottedDurations-Factors.xml", "suite_11a-TimeSignatures.xml",
           "suite_31a-Directions.xml", "suite_31c-MetronomeMarks.xml", "suite_45a-SimpleRepeat.xml",
           "suite_46d-PickupMeasure-ImplicitMeasures.xml", "suite_46f-IncompleteMeasures.xml" })
    {
        std::ifstream file (folder + name, std::ios::binary);
        const std::string bytes{ std::istreambuf_iterator<char> (file), {} };
        const auto read = exchange::readMusicXml (bytes);
        if (! read)
            FAIL_CHECK (name << ": " << read.error().text());
    }
}

TEST_CASE ("WAV heads and samples")
{
    exchange::WavLook look;
    look.timeReference = 172'800'000;
    look.description = "Kø";
    std::string bytes = exchange::wavHead (look, 3);
    exchange::appendSamples (bytes, std::vector<float>{ 0.5f, -1.0f, 2.0f });
    exchange::endWav (bytes);
    const auto number = [&] (std::size_t at, int count)
    {
        std::uint64_t value = 0;
        for (int i = count - 1; i >= 0; --i)
            value = value << 8 | static_cast<unsigned char> (bytes[at + static_cast<std::size_t> (i)]);
        return value;
    };
    CHECK (bytes.substr (0, 4) == "RIFF");
    CHECK (number (4, 4) == bytes.size() - 8);
    CHECK (bytes.size() % 2 == 0);
    const auto bext = bytes.find ("bext") + 8;
    CHECK (number (bext - 4, 4) == 602);
    CHECK (bytes.substr (bext, 2) == "Ko");
    CHECK (number (bext + 338, 8) == 172'800'000);
    const auto data = bytes.find ("data");
    CHECK (number (data + 4, 4) == 9);
    CHECK (number (data + 8, 3) == 0x400000);
    CHECK (number (data + 11, 3) == 0x800000);
    CHECK (number (data + 14, 3) == 0x7FFFFF);
}
