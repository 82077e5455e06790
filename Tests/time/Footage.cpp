#include "time/Footage.h"

#include "Checks.h"
#include "time/Clock.h"
#include "time/Timecode.h"

#include <array>
#include <utility>

using namespace shutterbeat;
using namespace shutterbeat::time;

namespace
{
Gauge gauge (const char* name)
{
    const auto found = parseGauge (name);
    REQUIRE (found);
    return *found;
}
} // namespace

TEST_CASE ("Frames a foot of every gauge (handbook 2.1)")
{
    CHECK (gauge ("35 mm").framesPerFoot == 16);
    CHECK (gauge ("16mm").framesPerFoot == 40);
    CHECK (gauge ("9.5 mm").framesPerFoot == 40);
    CHECK (gauge ("8 MM").framesPerFoot == 80);
    CHECK (gauge ("super 8").framesPerFoot == 72);
    const auto none = parseGauge ("70 mm");
    REQUIRE_FALSE (none);
    CHECK (none.error().text().find ("Super 8") != std::string::npos);
    CHECK_FALSE (parseGauge (""));
}

TEST_CASE ("Feet and frames of 35 mm (handbook 2.2)")
{
    const Gauge film = gauge ("35 mm");
    const std::array<std::pair<std::int64_t, const char*>, 10> rows{ { { 0, "0+00" },
                                                                       { 62, "3+14" },
                                                                       { 1000, "62+08" },
                                                                       { 1800, "112+08" },
                                                                       { 1828, "114+04" },
                                                                       { 17982, "1123+14" },
                                                                       { 86400, "5400+00" },
                                                                       { 86413, "5400+13" },
                                                                       { 107892, "6743+04" },
                                                                       { 2006623, "125413+15" } } };
    for (const auto& [frames, text] : rows)
    {
        CHECK (feetText (frames, film) == text);
        const auto back = parseFeet (text, film);
        REQUIRE (back);
        CHECK (*back == frames);
    }
    CHECK (feetText (1334, film) == "83+06"); // WORKED H: a 24 fps footage counter, 18 at 24, film frame 1000
    CHECK (feetText (86400, gauge ("16 mm")) == "2160+00");
    const auto tables = tests::handbookTables();
    if (tables.is_null())
        return;
    for (const auto& [frames, text] : tables["feet_frames16"].items())
        CHECK (feetText (std::stoll (frames), film) == text.get<std::string>());
}

TEST_CASE ("A label's frames as footage (handbook 2.2)")
{
    const auto feetOf = [] (const char* label, const char* rate)
    {
        const auto at = parseRate (rate);
        REQUIRE (at);
        const auto count = parseLabel (label, at->value);
        REQUIRE (count);
        return feetText (count->value, Gauge{});
    };
    CHECK (feetOf ("01:02:03:04", "24") == "5584+12");
    CHECK (feetOf ("01:02:03:04", "25") == "5817+07");
    CHECK (feetOf ("01:02:03;04", "29.97df") == "6973+14");
    CHECK (feetOf ("01:02:03:04", "30") == "6980+14");
    CHECK (feetOf ("23:13:29:07", "23.976") == "125413+15");
    CHECK (longClockText (Rational (2006623) * Rational (1001, 24000), 9) == "23:14:52.900958333");
}

TEST_CASE ("Feet as they are typed (handbook 2.2)")
{
    const Gauge film;
    const auto read = [&] (const char* text)
    {
        const auto frames = parseFeet (text, film);
        INFO (text);
        REQUIRE (frames);
        return *frames;
    };
    CHECK (read ("01+2") == 18);
    CHECK (read ("100+150") == 1750);
    CHECK (read ("62") == 992);
    CHECK (read (" 62+08 ") == 1000);
    CHECK (read ("-0+05") == -5);
    CHECK (feetText (-5, film) == "-0+05");
    CHECK (feetText (-21, film) == "-1+05");
    for (const char* text :
         { "", "+", "0+", "+0", "0++0", "Z+02", "1+2+3", "--1+00", "1+-2", "1.5", "1+0x2", "-", "99999999999+00" })
    {
        const auto frames = parseFeet (text, film);
        INFO (text);
        REQUIRE_FALSE (frames);
        CHECK (frames.error().text().find ("62+08") != std::string::npos);
    }
    CHECK_PROPERTY ("round trip",
                    []
                    {
                        const auto& all = gauges();
                        const Gauge& one = all[*rc::gen::inRange<std::size_t> (0, all.size())];
                        const auto frames = *rc::gen::inRange<std::int64_t> (-10'000'000, 10'000'000);
                        const auto back = parseFeet (feetText (frames, one), one);
                        RC_ASSERT (back.ok());
                        RC_ASSERT (*back == frames);
                    });
}

TEST_CASE ("Feet a minute, and minutes of a length (handbook 2.3, 2.4)")
{
    // Feet a minute = 60 * speed / frames a foot.
    const auto feetAMinute = [] (const Rational& speed, const char* film)
    { return Rational (60) * speed / Rational (gauge (film).framesPerFoot); };
    const std::array<int, 6> speeds{ 16, 18, 20, 22, 24, 25 };
    const std::array<Rational, 6> feet35{ 60, { 135, 2 }, 75, { 165, 2 }, 90, { 375, 4 } };
    const std::array<Rational, 6> feet16{ 24, 27, 30, 33, 36, { 75, 2 } };
    const std::array<const char*, 6> super8{ "13.333", "15.000", "16.667", "18.333", "20.000", "20.833" };
    for (std::size_t i = 0; i < speeds.size(); ++i)
    {
        CHECK (feetAMinute (speeds[i], "35 mm") == feet35[i]);
        CHECK (feetAMinute (speeds[i], "9.5 mm") == feet16[i]);
        CHECK (feetAMinute (speeds[i], "8 mm") * Rational (2) == feet16[i]);
        CHECK (decimalText (feetAMinute (speeds[i], "Super 8"), 3) == super8[i]);
        // The typed form reads back to the speed.
        const auto speed = parseSpeed (decimalText (feet35[i], 2) + "ft/min");
        REQUIRE (speed);
        CHECK (speed->value == Rational (speeds[i]));
    }
    // Running time of a length, from its footage as it is typed.
    const auto clockOf = [] (const char* feet, const Rational& speed, const char* film)
    {
        const auto frames = parseFeet (feet, gauge (film));
        REQUIRE (frames);
        return clockText (Rational (*frames) / speed);
    };
    const std::array<std::array<const char*, 6>, 3> times{
        { { "1:40.00", "1:28.89", "1:20.00", "1:12.73", "1:06.67", "1:04.00" },
          { "16:40.00", "14:48.89", "13:20.00", "12:07.27", "11:06.67", "10:40.00" },
          { "33:20.00", "29:37.78", "26:40.00", "24:14.55", "22:13.33", "21:20.00" } }
    };
    const std::array<const char*, 3> lengths{ "100", "1000", "2000" };
    for (std::size_t row = 0; row < lengths.size(); ++row)
        for (std::size_t i = 0; i < speeds.size(); ++i)
            CHECK (clockOf (lengths[row], speeds[i], "35 mm") == times[row][i]);
    CHECK (clockOf ("100", 16, "16 mm") == "4:10.00");
    CHECK (clockOf ("100", 18, "16 mm") == "3:42.22");
    CHECK (clockOf ("100", 24, "16 mm") == "2:46.67");
    CHECK (clockOf ("400", 24, "16 mm") == "11:06.67");
    CHECK (clockOf ("50", 18, "Super 8") == "3:20.00");
    CHECK (clockOf ("50", 24, "Super 8") == "2:30.00");
    CHECK (clockOf ("50", 16, "8 mm") == "4:10.00");
    // 100 minutes at 24 in feet of each gauge.
    const std::array<std::pair<const char*, const char*>, 5> hundred{
        { { "35 mm", "9000+00" }, { "16 mm", "3600+00" }, { "9.5 mm", "3600+00" }, { "8 mm", "1800+00" }, { "Super 8", "2000+00" } }
    };
    for (const auto& [film, feet] : hundred)
        CHECK (feetText (144000, gauge (film)) == feet);

    const auto tables = tests::handbookTables();
    if (tables.is_null())
        return;
    CHECK (tables["runtime35_s"].size() == 18);
    for (const auto& [name, seconds] : tables["runtime35_s"].items())
    {
        const auto at = name.find ("ft@");
        const auto frames = parseFeet (name.substr (0, at), Gauge{});
        const auto speed = parseSpeed (name.substr (at + 3));
        REQUIRE (frames);
        REQUIRE (speed);
        CHECK (fractionText (Rational (*frames) / speed->value) == seconds.get<std::string>());
    }
}
