#include "exchange/ListChecks.h"
#include "exchange/SampleBook.h"

#include "exchange/CmxComments.h"
#include "exchange/CmxList.h"
#include "time/Text.h"
#include "time/Timecode.h"

using namespace shutterbeat;

namespace
{

exchange::Written listOf (const spotting::BookTimes& times)
{
    auto written = exchange::writeCmxList (times, tests::head);
    REQUIRE (written.ok());
    return std::move (*written);
}

std::vector<std::string> linesOf (const std::string& text)
{
    std::vector<std::string> lines;
    for (const auto line : time::splitAt (text, '\n'))
        lines.emplace_back (time::trimmed (line));
    return lines;
}

bool has (const std::vector<std::string>& lines, const std::string& line)
{
    return std::find (lines.begin(), lines.end(), line) != lines.end();
}

} // namespace

TEST_CASE ("a small list, byte for byte")
{
    auto book = tests::plainBook ({ 40, 20 }, time::Rational (20), "25");
    book.hits = std::vector{ tests::hitAt ("a-1", 20, "Dør", spotting::HitKind::seenMusic) };
    book.cues = std::vector{ tests::cueAt ("c-1", "1M1", 0, 50, "Open") };
    const auto written = exchange::writeCmxList (tests::timed (book), { "Ladder", "" });
    REQUIRE (written.ok());
    CHECK (written->parts[0].bytes
           == "TITLE:   Ladder\r\n"
              "FCM: NON-DROP FRAME\r\n"
              "* EDITION A, 20 film frames a second, final rate 25, true fill, start 01:00:00:00\r\n"
              "001  AX       V     C        01:00:00:00 01:00:02:00 01:00:00:00 01:00:02:00\r\n"
              "* SHOT 1 shot\r\n"
              "* CUE 01:00:00:00 01:00:02:13 1M1 Open\r\n"
              "* HIT 01:00:01:00 should music-seen Dør\r\n"
              "002  AX       V     C        01:00:02:00 01:00:03:00 01:00:02:00 01:00:03:00\r\n"
              "* SHOT 2 shot\r\n");
    CHECK (written->notes.empty());
}

TEST_CASE ("B26: FCM says how the labels really count")
{
    for (const auto& [rate, line] : std::vector<std::pair<std::string, std::string>>{ { "29.97", "FCM: NON-DROP FRAME" },
                                                                                      { "29.97df", "FCM: DROP FRAME" },
                                                                                      { "59.94df", "FCM: DROP FRAME" },
                                                                                      { "30", "FCM: NON-DROP FRAME" } })
    {
        const auto lines = linesOf (listOf (tests::timed (tests::comedy (rate))).parts[0].bytes);
        CHECK (lines[1] == line);
    }
    // A cut on the first frame of the second minute: drop-frame leaves out ;00 and ;01.
    const auto book = tests::plainBook ({ 1800, 30 }, time::Rational (30), "29.97df", "00:00:00:00");
    const auto lines = linesOf (listOf (tests::timed (book)).parts[0].bytes);
    CHECK (has (lines, "002  AX       V     C        00:01:00;02 00:01:01;02 00:01:00;02 00:01:01;02"));
}

TEST_CASE ("B31: start label, hits on one frame, separators and line breaks")
{
    auto book = tests::plainBook ({ 500 }, time::Rational (24), "24", "00:59:50:00");
    book.hits = std::vector{ tests::hitAt ("a-1", 240, "one | \"two\""), tests::hitAt ("a-2", 240, "three\nfour"),
                             tests::hitAt ("a-3", 241, "five") };
    const auto written = listOf (tests::timed (book));
    const auto lines = linesOf (written.parts[0].bytes);
    CHECK (has (lines, "* HIT 01:00:00:00 should action one / \"two\""));
    CHECK (has (lines, "* HIT 01:00:00:00 should action three four"));
    CHECK (has (lines, "* HIT 01:00:00:01 should action five"));
    CHECK (tests::said (written.notes, "one / \"two\""));
    CHECK (tests::said (written.notes, "three four"));
}

TEST_CASE ("every hit and cue is read back on its frame at every rate")
{
    for (const char* rate : { "23.976", "24", "25", "29.97", "29.97df", "30", "48", "50", "59.94", "59.94df", "60" })
    {
        const auto times = tests::timed (tests::comedy (rate));
        const auto found = exchange::readCmxComments (listOf (times).parts[0].bytes, times.timings.delivery().rate);
        REQUIRE (found.ok());
        CHECK (found->bad.empty());
        CHECK (found->warnings.empty());
        std::vector<const spotting::HitTimes*> placed;
        for (const auto& row : times.hits)
            if (row.at)
                placed.push_back (&row);
        REQUIRE (found->hits.size() == placed.size());
        // Outside the picture a hit stands below the first event; else both are in order of time.
        for (std::size_t i = 0; i < placed.size(); ++i)
        {
            CHECK (found->hits[i].count == times.timings.startCount() + placed[i]->at->delivered);
            CHECK (found->hits[i].kind == placed[i]->hit.kind);
            CHECK (found->hits[i].weight == placed[i]->hit.weight);
        }
        REQUIRE (found->cues.size() == 3);
        for (std::size_t i = 0; i < 3; ++i)
        {
            CHECK (found->cues[i].number == times.cues[i].cue.number);
            CHECK (found->cues[i].title == times.cues[i].cue.title);
            CHECK (found->cues[i].in == times.timings.startCount() + times.cues[i].in->delivered);
            CHECK (found->cues[i].out == times.timings.startCount() + times.cues[i].out->delivered);
        }
    }
}

TEST_CASE ("more than 999 events are several lists, each from 001")
{
    auto book = tests::plainBook (std::vector<std::int64_t> (2100, 10), time::Rational (20), "25");
    book.hits = std::vector{ tests::hitAt ("a-1", 9990, "in event 1000") };
    const auto written = listOf (tests::timed (book));
    REQUIRE (written.parts.size() == 3);
    CHECK (written.parts[0].suffix == "-part1");
    CHECK (written.parts[2].suffix == "-part3");
    CHECK (tests::said (written.notes, "2100 events"));
    const std::vector<std::size_t> counts{ 999, 999, 102 };
    for (std::size_t part = 0; part < 3; ++part)
    {
        std::vector<std::string> events;
        for (const auto& line : linesOf (written.parts[part].bytes))
            if (line.size() > 3 && line.find ("  AX ") == 3)
                events.push_back (line.substr (0, 3));
        REQUIRE (events.size() == counts[part]);
        CHECK (events.front() == "001");
        CHECK (events.back() == time::padded (static_cast<std::int64_t> (counts[part]), 3));
    }
    CHECK (has (linesOf (written.parts[1].bytes), "* HIT 01:08:19:13 should action in event 1000"));
}

TEST_CASE ("a list past midnight keeps its order and says so")
{
    auto book = tests::plainBook ({ 240, 240 }, time::Rational (24), "24", "23:59:55:00");
    book.hits = std::vector{ tests::hitAt ("a-1", 130, "after midnight") };
    const auto written = listOf (tests::timed (book));
    const auto lines = linesOf (written.parts[0].bytes);
    CHECK (has (lines, "001  AX       V     C        23:59:55:00 00:00:05:00 23:59:55:00 00:00:05:00"));
    CHECK (has (lines, "* HIT 00:00:00:10 should action after midnight"));
    CHECK (tests::said (written.notes, "passes midnight"));
}

TEST_CASE ("hits outside the picture and lost ones are in the list")
{
    const auto written = listOf (tests::timed (tests::comedy()));
    const auto lines = linesOf (written.parts[0].bytes);
    CHECK (has (lines, "* HIT 00:59:56:00 may mood House lights down"));
    CHECK (has (lines, "* LOST HIT must gag The cut scene"));
    CHECK (tests::said (written.notes, "The cut scene is lost"));
}

TEST_CASE ("reels are lists of their own: a rate without timecode is refused")
{
    auto book = tests::plainBook ({ 100, 100 }, time::Rational (20), "25");
    auto edition = book.editions[0];
    edition.reels.push_back ({ 1, "02:00:00:00" });
    book.editions = std::vector{ edition };
    const auto written = listOf (tests::timed (book));
    REQUIRE (written.parts.size() == 2);
    CHECK (written.parts[1].suffix == "-reel2");
    CHECK (has (linesOf (written.parts[1].bytes), "001  AX       V     C        02:00:00:00 02:00:05:00 02:00:00:00 02:00:05:00"));
    const auto refused = exchange::writeCmxList (tests::timed (tests::comedy ("18")), tests::head);
    REQUIRE_FALSE (refused.ok());
    CHECK (refused.error().text()
           == "CMX3600 list: needs timecode, and there is none at 18; choose another final rate, such as 24 or 25");
}

TEST_CASE ("comments are read whatever the line ends, letters and case: bad ones are named")
{
    const time::Rate rate{ time::Rational (25), false };
    for (const std::string end : { "\r\n", "\n", "\r" })
    {
        const auto found = exchange::readCmxComments (
            "\xEF\xBB\xBFTITLE: x" + end + "FCM: DROP FRAME" + end + end + "*hit 01:00:00:01 must cut D\xF8r  " + end
                + "* HIT 01:00:00:99 must cut x" + end + "* HIT soon must cut x" + end + "* HIT 01:00:00:00 huge cut x" + end
                + "* HIT 01:00:00:00 must thing x" + end + "* LOC: 01:00:00:00 RED x",
            rate);
        REQUIRE (found.ok());
        REQUIRE (found->hits.size() == 1);
        CHECK (found->hits[0].text == "Dør");
        CHECK (found->hits[0].line == 4);
        CHECK (found->bad.size() == 4);
        CHECK (found->warnings.size() == 1);
    }
    CHECK_FALSE (exchange::readCmxComments ("", { time::Rational (18), false }).ok());
    CHECK_PROPERTY ([rate] (const std::string& bytes) { return exchange::readCmxComments ("* HIT " + bytes, rate).ok(); });
}
