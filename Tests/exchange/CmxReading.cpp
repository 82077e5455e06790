#include "exchange/SampleBook.h"

#include "exchange/CmxList.h"
#include "exchange/CmxRead.h"
#include "time/Text.h"
#include "time/Timecode.h"

#include <filesystem>
#include <fstream>

using namespace shutterbeat;
using exchange::CmxShot;
using exchange::CmxTransition;

namespace
{
exchange::CmxList listOf (const std::string& text, const std::string& rate = "24")
{
    auto list = exchange::readCmxList (text, time::parseRate (rate)->value);
    if (! list)
        FAIL (list.error().text());
    return std::move (*list);
}

std::string replaced (std::string text, const std::string& from, const std::string& to)
{
    for (auto at = text.find (from); at != std::string::npos; at = text.find (from, at + to.size()))
        text.replace (at, from.size(), to);
    return text;
}

/// A list of the shared folder, or none where that is absent.
std::optional<std::string> realList (const std::string& name)
{
    const std::string path = tests::testData ("data/interchange/edl/" + name);
    if (! std::filesystem::exists (path))
        return {};
    std::ifstream file (path, std::ios::binary);
    return std::string{ std::istreambuf_iterator<char> (file), {} };
}

const std::string threeEvents = "TITLE: Three\n"
                                "FCM: NON-DROP FRAME\n"
                                "001  AX       V     C        00:00:00:00 00:00:02:00 01:00:00:00 01:00:02:00\n"
                                "* FROM CLIP NAME: D\xC3\xB8r\n"
                                "002  REEL0002 V     C        00:00:10:00 00:00:11:00 01:00:02:00 01:00:03:00\n"
                                "* FROM CLIP NAME: two\n"
                                "003  AX       V     C        00:00:00:00 00:00:00:12 01:00:03:00 01:00:03:12\n";
} // namespace

TEST_CASE ("B25: a speed line is kept as it is: the record length rules the picture's clock")
{
    for (const auto& [speed, factor] : std::vector<std::pair<std::string, time::Rational>>{
             { "036.0", time::Rational (3, 2) }, { "000.0", 0 }, { "-024.0", -1 } })
    {
        const auto text = "TITLE:   Speed\r\nFCM: NON-DROP FRAME\r\n"
                          "001  AX       V     C        00:00:10:00 00:00:13:07 01:00:00:00 01:00:03:07\r\n"
                          "M2   AX             "
                          + speed + "                00:00:10:00\r\n";
        const auto list = listOf (text);
        REQUIRE (list.events.size() == 1);
        CHECK (list.events[0].length() == 79);
        REQUIRE (list.events[0].speed);
        CHECK (list.events[0].speedFactor (list.rate) == factor);
        CHECK (list.bad.empty());
        CHECK (exchange::cmxListText (list) == text);
    }
}

TEST_CASE ("B26: FCM holds for what follows, until the next: a mixed list is warned of")
{
    const std::string text = "FCM: NON-DROP FRAME\n"
                             "001  AX V C 00:00:00:00 00:00:01:00 00:00:00:00 00:00:01:00\n"
                             "FCM: DROP FRAME\n"
                             "002  AX V C 00:00:00:00 00:00:01:00 00:01:00:02 00:01:01:02\n";
    const auto list = listOf (text, "29.97");
    REQUIRE (list.events.size() == 2);
    CHECK (list.events[1].recordIn == 1800); // as non-drop it would be 1802
    CHECK (list.events[1].dropFrame);
    REQUIRE (list.warnings.size() == 1);
    CHECK (list.warnings[0].find ("drop-frame in some places") != std::string::npos);
    // Written again, FCM says how each event counts.
    const auto again = listOf (exchange::cmxListText (list), "29.97");
    CHECK (again.events[1].recordIn == 1800);
    // Between the two lines of one transition it is no fault.
    const auto pair =
        listOf ("FCM: NON-DROP FRAME\n002 A V C 00:00:00:00 00:00:00:00 00:00:05:00 00:00:05:00\nFCM: NON-DROP FRAME\n"
                "002 B V D 030 00:00:00:00 00:00:02:00 00:00:05:00 00:00:07:00\n");
    CHECK (pair.bad.empty());
    CHECK (pair.events[1].transitionFrames == 30);
}

TEST_CASE ("B27: line ends, byte order mark, blank lines, letters and case make no difference")
{
    const auto plain = listOf (threeEvents);
    REQUIRE (plain.events.size() == 3);
    CHECK (plain.events[0].fromClip == "Dør");
    for (const auto& text :
         { replaced (threeEvents, "\n", "\r\n"), replaced (threeEvents, "\n", "\r"), "\xEF\xBB\xBF" + threeEvents,
           replaced (threeEvents, "\n", "\n\n"), replaced (threeEvents, "\n", "   \n"), replaced (threeEvents, "* FROM", "*FROM"),
           replaced (threeEvents, "FCM: NON-DROP FRAME", "fcm: non-drop frame"), replaced (threeEvents, "\xC3\xB8", "\xF8") })
    {
        const auto list = listOf (text);
        CHECK (list.bad.empty());
        CHECK (list.title == "Three");
        REQUIRE (list.events.size() == 3);
        for (std::size_t i = 0; i < 3; ++i)
        {
            CHECK (list.events[i].recordIn == plain.events[i].recordIn);
            CHECK (list.events[i].recordOut == plain.events[i].recordOut);
            CHECK (list.events[i].reel == plain.events[i].reel);
            CHECK (list.events[i].fromClip == plain.events[i].fromClip);
        }
    }
}

TEST_CASE ("B29: holes and black are told apart, the list's start is the film's")
{
    const std::string hole = "001  AX V C 00:00:00:00 00:00:02:00 10:00:00:00 10:00:02:00\n"
                             "002  AX V C 00:00:05:00 00:00:06:00 10:00:03:00 10:00:04:00\n";
    const std::string black = "001  AX V C 00:00:00:00 00:00:02:00 10:00:00:00 10:00:02:00\n"
                              "002  BL V C 00:00:00:00 00:00:01:00 10:00:02:00 10:00:03:00\n"
                              "003  AX V C 00:00:05:00 00:00:06:00 10:00:03:00 10:00:04:00\n";
    for (const auto& [text, kind] :
         std::vector<std::pair<std::string, CmxShot::Kind>>{ { hole, CmxShot::Kind::hole }, { black, CmxShot::Kind::black } })
        for (const auto& list : { listOf (text), listOf (exchange::cmxListText (listOf (text))) })
        {
            CHECK (list.start() == 10 * 3600 * 24);
            const auto shots = list.shots();
            REQUIRE (shots.size() == 3);
            CHECK (shots[0].start == 0);
            CHECK (shots[1].kind == kind);
            CHECK (shots[1].start == 48);
            CHECK (shots[1].length == 24);
            CHECK (shots[2].start == 72);
        }
}

TEST_CASE ("bad lines are named with their number and reason, the good ones kept")
{
    const auto list = listOf ("TITLE: x\n"
                              "001  AX V C 00:00:00:00 00:00:01:00 01:00:00:00 01:00:01:00\n"
                              "002  AX V C 00:00:00:00 00:00:01:99 01:00:01:00 01:00:02:00\n"
                              "003  AX V Q 00:00:00:00 00:00:01:00 01:00:02:00 01:00:03:00\n"
                              "004  AX V\n"
                              "M2 ZZ 12.0 00:00:00:00\n"
                              "what is this\n"
                              "005  BB V D 010 00:00:00:00 00:00:01:00 01:00:03:00 01:00:04:00\n");
    CHECK (list.events.size() == 2);
    REQUIRE (list.bad.size() == 6);
    const std::vector<std::int64_t> lines{ 3, 4, 5, 6, 7, 8 };
    for (std::size_t i = 0; i < 6; ++i)
        CHECK (list.bad[i].line == lines[i]);
    CHECK (list.bad[1].why.find ("transition \"Q\"") != std::string::npos);
    CHECK (list.bad[3].why.find ("reel ZZ") != std::string::npos);
    const auto none = exchange::readCmxList ("TITLE: x\nnothing\n", { time::Rational (24), false });
    REQUIRE_FALSE (none.ok());
    CHECK (none.error().text().find ("line 2") != std::string::npos);
    CHECK_FALSE (exchange::readCmxList (threeEvents, { time::Rational (18), false }).ok());
    CHECK_PROPERTY (
        [] (const std::string& bytes)
        {
            const auto found = exchange::readCmxList (threeEvents + bytes + "\n" + bytes, { time::Rational (24), false });
            return ! found.ok() || found->events.size() >= 3;
        });
}

TEST_CASE ("what we write is read back shot for shot, over 999 events too")
{
    const auto times = tests::timed (tests::plainBook (std::vector<std::int64_t> (2100, 10), time::Rational (20), "29.97df"));
    const auto written = *exchange::writeCmxList (times, { "Ladder", "" });
    REQUIRE (written.parts.size() == 3);
    std::size_t shot = 0;
    for (const auto& part : written.parts)
    {
        const auto list = listOf (part.bytes, "29.97df");
        CHECK (list.bad.empty());
        CHECK (list.warnings.empty());
        CHECK (list.events.size() <= 999);
        for (const auto& event : list.events)
        {
            CHECK (event.recordIn == times.timings.startCount() + times.timings.times (times.timings.shotHead (shot)).delivered);
            ++shot;
        }
    }
    CHECK (shot == 2100);
}

TEST_CASE ("lists of other systems")
{
    const auto screening = realList ("otio_screening_example.edl");
    if (! screening)
    {
        WARN ("skipped: the shared lists are not there");
        return;
    }
    {
        const auto list = listOf (*screening);
        CHECK (list.events.size() == 9);
        CHECK (list.start() == time::parseLabel ("00:59:53:11", list.rate)->value);
        REQUIRE (list.locators.size() == 3);
        CHECK (list.locators[0].colour == "RED");
        CHECK (list.locators[0].text == "ANIM FIX NEEDED");
        CHECK (list.locators[0].count == time::parseLabel ("01:00:01:14", list.rate)->value);
        CHECK (list.locators[2].text.empty());
        CHECK (list.bad.empty());
        // The same list without blanks after its stars.
        const auto tight = listOf (*realList ("otio_no_spaces_test.edl"));
        CHECK (tight.locators.size() == 3);
        CHECK (tight.events[3].fromClip == list.events[3].fromClip);
    }
    {
        const auto list = listOf (*realList ("otio_dissolve_test.edl"));
        CHECK (list.bad.empty());
        CHECK (list.events[2].transition == CmxTransition::dissolve);
        CHECK (list.events[2].toClip == "clip_B");
        const auto shots = list.shots();
        REQUIRE (shots.size() == 3);
        CHECK (shots[1].start == 9);
        CHECK (shots[1].length == 10);
    }
    {
        const auto list = listOf (*realList ("otio_wipe_test.edl"));
        CHECK (list.events[2].transition == CmxTransition::wipe);
        CHECK (list.events[2].transitionCode == "W001");
        CHECK (exchange::cmxListText (list).find ("W001 010") != std::string::npos);
    }
    {
        const auto list = listOf (*realList ("otio_speed_effects_small.edl"));
        CHECK (list.bad.empty());
        CHECK (list.events[1].speed->framesPerSecond == time::Rational (0));
        CHECK (list.events[1].length() == 17);
        // 70 source frames in 36: the list says 47.6 all the same, and is believed (handbook 7.1).
        CHECK (list.events[4].speed->framesPerSecond == time::Rational (238, 5));
        CHECK (list.events[4].length() == 36);
    }
    {
        const auto list = listOf (*realList ("otio_gap_test.edl"));
        std::vector<CmxShot::Kind> kinds;
        for (const auto& shot : list.shots())
            kinds.push_back (shot.kind);
        CHECK (kinds
               == std::vector{ CmxShot::Kind::shot, CmxShot::Kind::hole, CmxShot::Kind::shot, CmxShot::Kind::hole,
                               CmxShot::Kind::shot });
        CHECK (list.events[0].fromClip == "shot1");
    }
    {
        // Two lines of one transition with different numbers: the list is refused there, the rest is kept.
        const auto list = listOf (*realList ("otio_dissolve_test_fail.edl"));
        REQUIRE (list.bad.size() == 1);
        CHECK (list.bad[0].line == 6);
    }
    {
        const auto list = listOf (*realList ("otio_timecode_mismatch.edl"), "25");
        CHECK (list.warnings.size() >= 1);
        CHECK (list.events[3].length() == 47);
    }
    {
        // Frames 24 at a rate of 24 labels: named, not guessed.
        const auto list = listOf (*realList ("pycmx_test_24psf.edl"), "24");
        CHECK (list.bad.size() >= 1);
        CHECK (list.bad[0].line == 3);
        const auto right = listOf (*realList ("pycmx_test_25.edl"), "25");
        CHECK (right.bad.empty());
        CHECK (right.events.back().picture() == false);
        CHECK (std::any_of (right.events.begin(), right.events.end(),
                            [] (const auto& e) { return e.speed && e.speed->framesPerSecond == time::Rational (-25); }));
        CHECK (std::count_if (right.events.begin(), right.events.end(), [] (const auto& e) { return e.black(); }) == 1);
    }
    for (const auto& [name, rate] : std::vector<std::pair<std::string, std::string>>{ { "editor_a.edl", "24" },
                                                                                      { "editor_b.edl", "24" },
                                                                                      { "editor_c.edl", "24" },
                                                                                      { "otio_25fps.edl", "25" },
                                                                                      { "otio_dissolve_test_2.edl", "24" },
                                                                                      { "otio_dissolve_test_3.edl", "24" },
                                                                                      { "otio_multi_audio.edl", "24" },
                                                                                      { "otio_transition_duration.edl", "30" },
                                                                                      { "pycmx_TEST.edl", "24" } })
    {
        INFO (name);
        const auto list = listOf (*realList (name), rate);
        for (const auto& bad : list.bad)
            UNSCOPED_INFO (bad.line << " " << bad.why);
        CHECK (list.bad.empty());
        // Round trip: every event the same.
        const auto again = listOf (exchange::cmxListText (list), rate);
        REQUIRE (again.events.size() == list.events.size());
        for (std::size_t i = 0; i < list.events.size(); ++i)
        {
            CHECK (again.events[i].recordIn == list.events[i].recordIn);
            CHECK (again.events[i].sourceOut == list.events[i].sourceOut);
            CHECK (again.events[i].comments == list.events[i].comments);
        }
    }
}
