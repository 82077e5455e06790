#include "exchange/ListChecks.h"
#include "exchange/SampleBook.h"

#include "exchange/MidiFile.h"
#include "exchange/MidiRead.h"
#include "time/Timecode.h"

using namespace shutterbeat;
using exchange::MidiReading;
using time::Rational;

namespace
{

std::string offsetAt (const std::string& label, const std::string& rateText)
{
    const auto rate = time::parseRate (rateText)->value;
    const auto count = time::parseLabel (label, rate);
    REQUIRE (count.ok());
    const auto offset = exchange::smpteOffset (count->value, rate);
    REQUIRE (offset.has_value());
    return { offset->bytes.begin(), offset->bytes.end() };
}

MidiReading readBack (const exchange::Written& written, std::size_t part = 0)
{
    auto reading = exchange::readMidiFile (written.parts.at (part).bytes);
    REQUIRE (reading.ok());
    CHECK (reading->warnings.empty());
    return std::move (*reading);
}

} // namespace

TEST_CASE ("SMPTE offsets of handbook 1.7")
{
    CHECK (offsetAt ("01:02:03:04", "24") == tests::bytesOf ({ 0x01, 2, 3, 4, 0 }));
    CHECK (offsetAt ("01:02:03:04", "25") == tests::bytesOf ({ 0x21, 2, 3, 4, 0 }));
    CHECK (offsetAt ("01:02:03;04", "29.97df") == tests::bytesOf ({ 0x41, 2, 3, 4, 0 }));
    CHECK (offsetAt ("01:02:03:04", "30") == tests::bytesOf ({ 0x61, 2, 3, 4, 0 }));
    CHECK (offsetAt ("10:00:00:00", "25") == tests::bytesOf ({ 0x2A, 0, 0, 0, 0 }));
    CHECK (offsetAt ("23:59:59:29", "30") == tests::bytesOf ({ 0x77, 0x3B, 0x3B, 0x1D, 0 }));
    CHECK (offsetAt ("08:30:12:05", "30") == tests::bytesOf ({ 0x68, 0x1E, 0x0C, 5, 0 }));
}

TEST_CASE ("rates that MIDI has no code for say so")
{
    const auto noteAt = [] (const char* rate) { return exchange::smpteOffset (0, time::parseRate (rate)->value)->note; };
    CHECK (noteAt ("24").empty());
    CHECK (noteAt ("25").empty());
    CHECK (noteAt ("29.97df").empty());
    CHECK (noteAt ("30").empty());
    CHECK (noteAt ("23.976").find ("24 frames a second") != std::string::npos);
    CHECK (noteAt ("29.97").find ("30 frames a second") != std::string::npos);
    CHECK (noteAt ("50").find ("label at 25") != std::string::npos);
    CHECK (noteAt ("59.94").find ("30 frames a second") != std::string::npos);
    CHECK_FALSE (exchange::smpteOffset (0, { Rational (18), false }));
    CHECK (offsetAt ("01:02:03:04", "23.976") == tests::bytesOf ({ 0x01, 2, 3, 4, 0 }));
    CHECK (offsetAt ("01:02:03:04", "29.97") == tests::bytesOf ({ 0x61, 2, 3, 4, 0 }));
    // Half rates: frame 21 of fifty is frame 10 and a half of twenty-five.
    CHECK (offsetAt ("01:02:03:21", "50") == tests::bytesOf ({ 0x21, 2, 3, 10, 50 }));
    CHECK (offsetAt ("01:02:03:20", "60") == tests::bytesOf ({ 0x61, 2, 3, 10, 0 }));
    CHECK (offsetAt ("00:01:00;04", "59.94df") == tests::bytesOf ({ 0x40, 1, 0, 2, 0 }));
}

TEST_CASE ("variable-length numbers of handbook 4.6")
{
    const std::vector<std::pair<std::int64_t, std::vector<int>>> rows{
        { 0, { 0 } },
        { 0x64, { 0x64 } },
        { 0x7F, { 0x7F } },
        { 0xC8, { 0x81, 0x48 } },
        { 480, { 0x83, 0x60 } },
        { 960, { 0x87, 0x40 } },
        { 400, { 0x83, 0x10 } },
        { 0x2000, { 0xC0, 0 } },
        { 0x3FFF, { 0xFF, 0x7F } },
        { 0x4000, { 0x81, 0x80, 0 } },
        { 0x0FFFFFFF, { 0xFF, 0xFF, 0xFF, 0x7F } },
    };
    for (const auto& [number, bytes] : rows)
        CHECK (exchange::variableLength (number) == tests::bytesOf (bytes));
}

TEST_CASE ("a small MIDI file, byte for byte")
{
    auto book = tests::plainBook ({ 40 }, time::Rational (20), "25");
    book.title = "Kø";
    book.hits = std::vector{ tests::hitAt ("a-1", 20, "Stå") };
    const auto written = exchange::writeMidiFile (tests::timed (book), { "Kø", "" });
    REQUIRE (written.ok());
    const std::string about = "20 film frames a second, final rate 25, true fill, edition A";
    const std::string track = tests::bytesOf ({ 0, 0xFF, 3, 3 }) + "Kø" + tests::bytesOf ({ 0, 0xFF, 0x54, 5, 0x21, 0, 0, 0, 0 })
                              + tests::bytesOf ({ 0, 0xFF, 0x58, 4, 4, 2, 0x18, 8 })
                              + tests::bytesOf ({ 0, 0xFF, 1, static_cast<int> (about.size()) }) + about
                              + tests::bytesOf ({ 0, 0xFF, 0x51, 3, 0x07, 0xA1, 0x20 })
                              // Delivered frame 25 is one second: 1920 ticks at 120 beats a minute.
                              + tests::bytesOf ({ 0x8F, 0x00, 0xFF, 7, 4 }) + "Stå"
                              + tests::bytesOf ({ 0x8F, 0x00, 0xFF, 0x2F, 0 });
    const std::string second = tests::bytesOf ({ 0, 0xFF, 3, 3 }) + "Kø" + tests::bytesOf ({ 0x9E, 0x00, 0xFF, 0x2F, 0 });
    CHECK (written->parts[0].bytes
           == "MThd" + tests::bytesOf ({ 0, 0, 0, 6, 0, 1, 0, 2, 3, 0xC0 }) + "MTrk"
                  + tests::bytesOf ({ 0, 0, 0, static_cast<int> (track.size()) }) + track + "MTrk"
                  + tests::bytesOf ({ 0, 0, 0, static_cast<int> (second.size()) }) + second);
}

TEST_CASE ("every place of a book is read back within half a tick at every rate")
{
    for (const char* rate : { "23.976", "24", "25", "29.97", "29.97df", "30", "48", "50", "59.94df", "60", "18" })
    {
        const auto times = tests::timed (tests::comedy (rate));
        const auto written = exchange::writeMidiFile (times, tests::head);
        REQUIRE (written.ok());
        const auto reading = readBack (*written);
        CHECK (reading.smpteOffset.has_value() == time::hasTimecode (times.timings.delivery().rate));
        std::vector<Rational> clocks;
        for (const auto& row : times.hits)
            if (row.at && (clocks.empty() || clocks.back() != std::max (row.at->clock, Rational (0))))
                clocks.push_back (std::max (row.at->clock, Rational (0)));
        REQUIRE (reading.cuePoints.size() == clocks.size());
        for (std::size_t i = 0; i < clocks.size(); ++i)
        {
            // The delivered frame that the tick falls on, with half a tick of play.
            const auto frame = reading.cuePoints[i].seconds * times.timings.delivery().rate.perSecond;
            CHECK (time::roundOf (frame) == time::roundOf (clocks[i] * times.timings.delivery().rate.perSecond));
            const auto off = reading.cuePoints[i].seconds - clocks[i];
            CHECK ((off < 0 ? -off : off) <= Rational (326, 1'000'000));
        }
        REQUIRE (reading.markers.size() == 3);
        CHECK (reading.markers[1].text == "1M2 Køkkenet");
        CHECK (reading.tempos.size() == 3);
        CHECK (reading.tempos[0].microsPerQuarter == 616650);
        const auto length = times.timings.clockOf (times.timings.deliveredLength());
        CHECK (reading.lastTick > 0);
        CHECK (reading.trackNames == std::vector<std::string>{ tests::head.title, tests::head.title });
        CHECK (length > reading.cuePoints.back().seconds);
    }
}

TEST_CASE ("the notes say what the MIDI file cannot")
{
    const auto written = exchange::writeMidiFile (tests::timed (tests::comedy ("18")), tests::head);
    REQUIRE (written.ok());
    CHECK (tests::said (written->notes, "has no timecode"));
    CHECK (tests::said (written->notes, "1M3 Chase to the river has no tempo yet; 120"));
    CHECK (tests::said (written->notes, "4.00 s before picture start"));
    CHECK (tests::said (written->notes, "hits on one place are one cue point: \"Pot boils over + Čapek slips\""));
    CHECK (tests::said (written->notes, "The cut scene is lost"));
}

TEST_CASE ("B31: hits on one frame, labels with separators and line breaks")
{
    auto book = tests::plainBook ({ 500 }, time::Rational (24), "24", "00:59:50:00");
    book.hits = std::vector{ tests::hitAt ("a-1", 240, "one | \"two\""), tests::hitAt ("a-2", 240, "three\nfour"),
                             tests::hitAt ("a-3", 241, "five") };
    const auto written = exchange::writeMidiFile (tests::timed (book), tests::head);
    REQUIRE (written.ok());
    const auto reading = readBack (*written);
    REQUIRE (reading.cuePoints.size() == 2);
    CHECK (reading.cuePoints[0].text == "one | \"two\" + three four");
    CHECK (reading.cuePoints[0].seconds == Rational (10));
    CHECK (reading.cuePoints[1].text == "five");
    CHECK (reading.smpteOffset == std::array<unsigned char, 5>{ 0, 59, 50, 0, 0 });
    CHECK (tests::said (written->notes, "\"three four\" is written on one line"));
}

TEST_CASE ("B39: text is UTF-8 with its length in bytes, or plain ASCII with the loss said")
{
    std::string long200;
    for (int i = 0; i < 200; ++i)
        long200 += "å";
    auto book = tests::plainBook ({ 500 }, time::Rational (24), "24");
    book.hits = std::vector{ tests::hitAt ("a-1", 10, "Køkkenet"), tests::hitAt ("a-2", 20, "“Stå!”"),
                             tests::hitAt ("a-3", 30, "Čapek"), tests::hitAt ("a-4", 40, long200) };
    const auto times = tests::timed (book);
    const auto written = exchange::writeMidiFile (times, tests::head);
    REQUIRE (written.ok());
    const auto& bytes = written->parts[0].bytes;
    CHECK (bytes.find (tests::bytesOf ({ 0xFF, 7, 9 }) + "Køkkenet") != std::string::npos);
    CHECK (bytes.find (tests::bytesOf ({ 0xFF, 7, 11 }) + "“Stå!”") != std::string::npos);
    CHECK (bytes.find (tests::bytesOf ({ 0xFF, 7, 0x83, 0x10 }) + long200) != std::string::npos);
    const auto plain = exchange::writeMidiFile (times, tests::head, { 960, true });
    REQUIRE (plain.ok());
    const auto reading = readBack (*plain);
    CHECK (reading.cuePoints[0].text == "Kokkenet");
    CHECK (reading.cuePoints[1].text == "\"Sta!\"");
    CHECK (reading.cuePoints[2].text == "Capek");
    CHECK (tests::said (plain->notes, "\"“Stå!”\" is written \"\"Sta!\"\" in plain ASCII"));
}

TEST_CASE ("one file a reel, each from its own picture start")
{
    auto book = tests::plainBook ({ 100, 100 }, time::Rational (20), "25");
    auto edition = book.editions[0];
    edition.reels.push_back ({ 1, "02:00:00:00" });
    book.editions = std::vector{ edition };
    book.hits = std::vector{ tests::hitAt ("a-1", 20, "first"), tests::hitAt ("a-2", 140, "second") };
    const auto written = exchange::writeMidiFile (tests::timed (book), tests::head);
    REQUIRE (written.ok());
    REQUIRE (written->parts.size() == 2);
    CHECK (written->parts[1].suffix == "-reel2");
    const auto second = readBack (*written, 1);
    REQUIRE (second.cuePoints.size() == 1);
    CHECK (second.cuePoints[0].text == "second");
    CHECK (second.cuePoints[0].seconds == Rational (2));
    CHECK (second.smpteOffset == std::array<unsigned char, 5>{ 0x22, 0, 0, 0, 0 });
}

TEST_CASE ("a tempo that the format cannot say is refused by cue")
{
    auto book = tests::comedy();
    auto cue = book.cues[0];
    cue.tempo = *music::TempoMap::steady (Rational (3));
    book.cues = std::vector{ cue };
    const auto written = exchange::writeMidiFile (tests::timed (book), tests::head);
    REQUIRE_FALSE (written.ok());
    CHECK (written.error().text().find ("1M1 The borrowed ladder") != std::string::npos);
}
