#include "time/Timecode.h"

#include "Checks.h"

#include <array>
#include <utility>

using namespace shutterbeat;
using namespace shutterbeat::time;

namespace
{
const Rate drop2997{ { 30000, 1001 }, true };
const Rate plain2997{ { 30000, 1001 }, false };
const Rate drop5994{ { 60000, 1001 }, true };
const Rate plain23976{ { 24000, 1001 }, false };

Rate whole (int perSecond)
{
    return { Rational (perSecond), false };
}

std::int64_t countOf (const std::string& text, const Rate& rate, LabelReading how = LabelReading::typed)
{
    const auto count = parseLabel (text, rate, how);
    INFO (text << " at " << rateName (rate) << (count ? "" : ": " + count.error().text()));
    REQUIRE (count);
    return count->value;
}

void bothWays (const std::string& text, std::int64_t count, const Rate& rate)
{
    INFO (text << " = " << count << " at " << rateName (rate));
    CHECK (countOf (text, rate) == count);
    CHECK (labelOf (count, rate).text == text);
    CHECK (labelOf (count, rate).days == 0);
}

struct DropRow
{
    const char* drop;
    std::int64_t count;
    const char* plain;
    const char* seconds; ///< rounded to the microsecond
};

// Handbook 1.2, 29.97 drop-frame: SMPTE ST 12-1 as tabulated by the sources named there.
constexpr std::array<DropRow, 13> dropRows{ {
    { "00:00:59;29", 1799, "00:00:59:29", "60.026633" },
    { "00:01:00;02", 1800, "00:01:00:00", "60.060000" },
    { "00:01:01;00", 1828, "00:01:00:28", "60.994267" },
    { "00:02:00;02", 3598, "00:01:59:28", "120.053267" },
    { "00:09:59;29", 17981, "00:09:59:11", "599.966033" },
    { "00:10:00;00", 17982, "00:09:59:12", "599.999400" },
    { "00:11:00;02", 19782, "00:10:59:12", "660.059400" },
    { "00:59:59;29", 107891, "00:59:56:11", "3599.963033" },
    { "01:00:00;00", 107892, "00:59:56:12", "3599.996400" },
    { "01:02:03;04", 111582, "01:01:59:12", "3723.119400" },
    { "10:03:00;05", 1084319, "10:02:23:29", "36180.110633" },
    { "23:58:34;10", 2586840, "23:57:08:00", "86314.228000" },
    { "23:59:59;29", 2589407, "23:58:33:17", "86399.880233" },
} };
} // namespace

TEST_CASE ("Drop-frame labels at 29.97 are those of SMPTE ST 12-1 (handbook 1.2)")
{
    for (const auto& row : dropRows)
    {
        bothWays (row.drop, row.count, drop2997);
        bothWays (row.plain, row.count, plain2997);
        CHECK (decimalText (Rational (row.count) / drop2997.perSecond, 6) == row.seconds);
    }
    // More pairs of the same table's source.
    const std::array<DropRow, 4> more{ { { "00:05:59;29", 10789, "00:05:59:19", "" },
                                         { "00:06:00;02", 10790, "00:05:59:20", "" },
                                         { "00:09:59;29", 17981, "00:09:59:11", "" },
                                         { "00:10:00;01", 17983, "00:09:59:13", "" } } };
    for (const auto& row : more)
    {
        bothWays (row.drop, row.count, drop2997);
        bothWays (row.plain, row.count, plain2997);
    }
    const auto tables = tests::handbookTables();
    if (tables.is_null())
        return;
    REQUIRE (tables["df2997"].size() == dropRows.size());
    for (const auto& row : tables["df2997"])
    {
        const auto count = row[1].get<std::int64_t>();
        bothWays (row[0], count, drop2997);
        bothWays (row[2], count, plain2997);
        CHECK (fractionText (Rational (count) / drop2997.perSecond) == row[3].get<std::string>());
    }
}

TEST_CASE ("Drop-frame labels at 59.94 (handbook 1.2)")
{
    const std::array<std::pair<const char*, std::int64_t>, 6> rows{ { { "00:00:01;01", 61 },
                                                                      { "00:00:59;59", 3599 },
                                                                      { "00:01:00;04", 3600 },
                                                                      { "00:10:00;00", 35964 },
                                                                      { "01:00:00;00", 215784 },
                                                                      { "23:59:59;59", 5178815 } } };
    for (const auto& [text, count] : rows)
        bothWays (text, count, drop5994);
    const auto tables = tests::handbookTables();
    if (tables.is_null())
        return;
    REQUIRE (tables["df5994"].size() == rows.size());
    for (const auto& row : tables["df5994"])
        bothWays (row[0], row[1], drop5994);
}

TEST_CASE ("Labels at whole rates (handbook 1.2)")
{
    bothWays ("00:06:56:17", 10001, whole (24));
    bothWays ("06:12:43:17", 670907, whole (30));
    bothWays ("23:59:59:24", 2159999, whole (25));
    bothWays ("23:59:59:49", 4319999, whole (50));
    bothWays ("01:00:00:00", 86400, plain23976);
}

TEST_CASE ("Labels that do not exist are refused with a reason (handbook 1.2)")
{
    const auto refused = [] (const std::string& text, const Rate& rate, const std::string& reason)
    {
        INFO (text << " at " << rateName (rate));
        const auto count = parseLabel (text, rate);
        REQUIRE_FALSE (count);
        CHECK (count.error().code == ErrorCode::usage);
        CHECK (count.error().text().find (text) != std::string::npos);
        INFO (count.error().text());
        CHECK (count.error().text().find (reason) != std::string::npos);
    };
    refused ("00:01:00;00", drop2997, "00:01:00;02");
    refused ("00:01:00;01", drop2997, "00:01:00;02");
    refused ("01:01:00;00", drop2997, "01:01:00;02");
    refused ("01:01:00:00", drop2997, "01:01:00;02"); // a colon makes it no better
    for (int frame = 0; frame < 4; ++frame)
        refused ("05:01:00;0" + std::to_string (frame), drop5994, "05:01:00;04");
    refused ("01:00:13;23", whole (24), "semicolon");
    refused ("01:00:13:24", whole (24), "00 to 23");
    refused ("01:00:13;00", plain2997, "semicolon");
    refused ("24:00:00:00", whole (25), "00 to 23");
    refused ("00:60:00:00", whole (25), "00 to 59");
    refused ("00:00:60:00", whole (25), "00 to 59");
    for (const char* text : { "",
                              "01",
                              "01:02:03",
                              "01:02:03:04:05",
                              "1h",
                              "aa:bb:cc:dd",
                              "01:00:00:-1",
                              "-1:00:00:00",
                              "-0:00:00:00",
                              "001:00:00:00",
                              "01:00:00:",
                              ":::",
                              "01;00;00:00",
                              "01:00;00:00",
                              "01;00:00;00",
                              "01:00:00.00",
                              "01:00:00:00 (x day)",
                              "01:00:00:00 (1 day)",
                              "01:00:00:00 (+1 week)",
                              "01:00:00:00 (+9999 days)" })
    {
        refused (text, whole (25), "hh:mm:ss:ff");
        refused (text, drop2997, "hh:mm:ss:ff");
    }
    // A rate without timecode says so instead of inventing labels (handbook 1.1: silent rates have none).
    refused ("01:00:00:00", whole (18), "has no timecode");
    refused ("01:00:00:00", { { 200, 11 }, false }, "has no timecode");
    CHECK (labelOf (100, whole (18)).text.empty());
    CHECK (labelsPerDay (whole (18)) == 0);
}

TEST_CASE ("The largest legal label of every minute exists, the left-out ones do not")
{
    // SMPTE ST 12-1: 00 and 01 (00 to 03 at 59.94) are left out of every minute not divisible by ten.
    for (const auto& [rate, dropped] : { std::pair{ drop2997, 2 }, std::pair{ drop5994, 4 } })
        for (int minute = 0; minute < 24 * 60; ++minute)
            for (int frame = 0; frame < dropped + 1; ++frame)
            {
                const std::string two = minute % 60 < 10 ? "0" : "";
                const std::string text = (minute < 600 ? "0" : "") + std::to_string (minute / 60) + ":" + two
                                         + std::to_string (minute % 60) + ":00;0" + std::to_string (frame);
                const bool exists = minute % 10 == 0 || frame >= dropped;
                if (parseLabel (text, rate).ok() != exists)
                    FAIL_CHECK (text << " at " << rateName (rate));
            }
}

TEST_CASE ("Frames in 24 hours (handbook 1.3)")
{
    const std::array<std::pair<const char*, std::int64_t>, 12> rows{ { { "23.976", 2073600 },
                                                                       { "24", 2073600 },
                                                                       { "25", 2160000 },
                                                                       { "29.97", 2592000 },
                                                                       { "29.97df", 2589408 },
                                                                       { "30", 2592000 },
                                                                       { "47.952", 4147200 },
                                                                       { "48", 4147200 },
                                                                       { "50", 4320000 },
                                                                       { "59.94", 5184000 },
                                                                       { "59.94df", 5178816 },
                                                                       { "60", 5184000 } } };
    for (const auto& [name, frames] : rows)
    {
        const auto rate = parseRate (name);
        REQUIRE (rate);
        INFO (name);
        CHECK (labelsPerDay (rate->value) == frames);
        CHECK (labelOf (frames, rate->value).days == 1);
        CHECK (labelOf (frames - 1, rate->value).days == 0);
    }
    // Ten label days: NTSC non-drop 864 864 s, drop-frame 863 999.136 s.
    CHECK (Rational (10 * labelsPerDay (plain2997)) / plain2997.perSecond == Rational (864864));
    CHECK (Rational (10 * labelsPerDay (drop2997)) / drop2997.perSecond == Rational (863999136, 1000));
    const auto tables = tests::handbookTables();
    if (tables.is_null())
        return;
    for (const auto& [name, frames] : tables["frames24h"].items())
    {
        std::string ours = name;
        if (ours.size() > 2 && ours.substr (ours.size() - 2) == "ND")
            ours.resize (ours.size() - 2);
        const auto rate = parseRate (ours);
        REQUIRE (rate);
        INFO (name);
        CHECK (labelsPerDay (rate->value) == frames.get<std::int64_t>());
    }
}

TEST_CASE ("A label is not a time: drift of non-drop and drop-frame labels (handbook 1.4)")
{
    const auto secondsOf = [] (const char* label, const Rate& rate) { return Rational (countOf (label, rate)) / rate.perSecond; };
    CHECK (secondsOf ("01:00:00:00", plain23976) == Rational (18018, 5));
    CHECK (secondsOf ("01:00:00:00", plain2997) == Rational (18018, 5));
    CHECK (secondsOf ("01:00:00;00", drop2997) == Rational (35999964, 10000));
    CHECK (Rational (labelsPerDay (plain23976)) / plain23976.perSecond == Rational (864864, 10));
    CHECK (Rational (labelsPerDay (drop2997)) / drop2997.perSecond == Rational (863999136, 10000));
    CHECK (labelOf (floorOf (Rational (3600) * plain23976.perSecond), plain23976).text == "00:59:56:09");
    CHECK (labelOf (floorOf (Rational (3600) * plain2997.perSecond), plain2997).text == "00:59:56:12");
    // The same instant at 29.97 as label 01:00:00:00 at 23.976.
    const auto frame = secondsOf ("01:00:00:00", plain23976) * drop2997.perSecond;
    CHECK (frame == Rational (108000));
    CHECK (labelOf (108000, plain2997).text == "01:00:00:00");
    CHECK (labelOf (108000, drop2997).text == "01:00:03;18");
    // Within ten minutes drop-frame labels stay between -59.967 and +60.533 ms of the clock.
    Rational least (0), most (0);
    std::string leastAt, mostAt;
    for (std::int64_t n = 0; n < 17982; ++n)
    {
        const auto label = labelOf (n, drop2997).text;
        const auto number = [&] (std::size_t at) { return (label[at] - '0') * 10 + (label[at + 1] - '0'); };
        const Rational named = Rational (number (3) * 60 + number (6)) + Rational (number (9), 30);
        const Rational off = named - Rational (n) / drop2997.perSecond;
        if (off < least)
            least = off, leastAt = label;
        if (most < off)
            most = off, mostAt = label;
    }
    CHECK (decimalText (least * Rational (1000), 3) == "-59.967");
    CHECK (leastAt == "00:00:59;29");
    CHECK (decimalText (most * Rational (1000), 3) == "60.533");
    CHECK (mostAt == "00:09:00;02");
}

TEST_CASE ("B01: label and clock of 23.976, never a decimal")
{
    CHECK (countOf ("02:00:00:00", plain23976) == 172800);
    CHECK (Rational (172800) / plain23976.perSecond == Rational (72072, 10));
    CHECK (floorOf (Rational (7200) * plain23976.perSecond) == 172627);
    CHECK (Rational (2415) / plain23976.perSecond == Rational (100725625, 1000000));
    // An hour at 25 run frame for frame at 23.976: 90 000 frames.
    CHECK (Rational (90000) / plain23976.perSecond == Rational (375375, 100));
}

TEST_CASE ("B03: a drop-frame label on true 30/1 media counts as it is written: on 24 fps the flag is a mistake")
{
    const auto drop = parseLabel ("10:11:12;13", whole (30), LabelReading::media);
    REQUIRE (drop);
    CHECK (drop->value == 1099073);
    CHECK (decimalText (Rational (drop->value) / Rational (30), 3) == "36635.767");
    CHECK (drop->note.find ("10:11:12;13") != std::string::npos);
    CHECK (countOf ("10:11:12;13", plain2997, LabelReading::media) == 1099073);
    CHECK (countOf ("10:11:12:13", whole (30), LabelReading::media) == 1100173);
    // The same label left out by drop-frame is refused there too, also past midnight.
    CHECK_FALSE (parseLabel ("10:11:00;01", whole (30), LabelReading::media));
    for (const Rate& rate : { drop2997, whole (30) })
    {
        const auto late = parseLabel ("25:01:00;00", rate, LabelReading::media);
        REQUIRE_FALSE (late);
        CHECK (late.error().text().find ("25:01:00;02") != std::string::npos);
    }
    const auto plain = parseLabel ("19:36:00;00", whole (24), LabelReading::media);
    REQUIRE (plain);
    CHECK (plain->value == 1693440);
    CHECK (plain->note.find ("non-drop") != std::string::npos);
    CHECK (countOf ("19:36:00;00", whole (25), LabelReading::media) == 1764000);
}

TEST_CASE ("B04: a label day, and what lies outside it")
{
    CHECK (labelsPerDay (plain23976) == 2073600);
    CHECK (countOf ("23:59:59:23", plain23976) == 2073599);
    CHECK (labelOf (2073600, plain23976).text == "00:00:00:00");
    CHECK (labelOf (2073600, plain23976).shown() == "00:00:00:00 (+1 day)");
    const auto start = countOf ("23:59:58:00", plain23976);
    CHECK (labelOf (start + 96, plain23976).shown() == "00:00:02:00 (+1 day)");
    CHECK (countOf ("00:00:02:00 (+1 day)", plain23976) == start + 96);
    CHECK (countOf ("24:00:00:00", plain23976, LabelReading::media) == 2073600);
    CHECK (labelOf (-1, whole (25)).shown() == "23:59:59:24 (-1 day)");
    CHECK (labelOf (-2 * 2160000 - 1, whole (25)).shown() == "23:59:59:24 (-3 days)");
    CHECK (labelOf (-1, drop2997).shown() == "23:59:59;29 (-1 day)");
    CHECK (countOf ("23:59:59;29 (-1 day)", drop2997) == -1);
    for (const Rate& rate : { whole (25), drop2997, drop5994, plain23976 })
        for (const std::int64_t count :
             { std::int64_t{ -99'999'999 }, std::int64_t{ -1 }, std::int64_t{ 0 }, std::int64_t{ 99'999'999 } })
            CHECK (countOf (labelOf (count, rate).shown(), rate) == count);
    // Extremes wrap, too, and do not overflow.
    CHECK (labelOf (std::numeric_limits<std::int64_t>::min(), drop2997).text.size() == 11);
    CHECK (labelOf (std::numeric_limits<std::int64_t>::max(), drop2997).text.size() == 11);
}

TEST_CASE ("A start label that a new rate does not have gives way to the next legal one (DESIGN 5)")
{
    const auto next = [] (const char* text, const Rate& rate)
    {
        const auto label = nextLegalLabel (text, rate);
        INFO (text);
        REQUIRE (label);
        CHECK (parseLabel (*label, rate).ok());
        return *label;
    };
    CHECK (next ("01:01:00:00", drop2997) == "01:01:00;02");
    CHECK (next ("01:01:00:03", drop2997) == "01:01:00;03");
    CHECK (next ("01:10:00:00", drop2997) == "01:10:00;00");
    CHECK (next ("01:01:00;03", drop5994) == "01:01:00;04");
    CHECK (next ("01:00:00;00", whole (25)) == "01:00:00:00");
    CHECK (next ("00:59:59:29", whole (24)) == "01:00:00:00");
    CHECK (next ("00:00:59:59", drop2997) == "00:01:00;02");
    CHECK (next ("23:59:59:29", whole (25)) == "00:00:00:00 (+1 day)");
    CHECK (next ("01:01:00:00 (+1 day)", drop2997) == "01:01:00;02 (+1 day)");
    CHECK_FALSE (nextLegalLabel ("25:00:00:00", whole (25)));
    CHECK_FALSE (nextLegalLabel ("noon", whole (25)));
    CHECK_FALSE (nextLegalLabel ("01:00:00:00", whole (18)));
}

TEST_CASE ("WORKED F: picture start is start label plus leader in delivered frames")
{
    const auto pictureStart = [] (const char* start, std::int64_t leader, const Rate& rate)
    { return labelOf (countOf (start, rate) + leader, rate).text; };
    CHECK (pictureStart ("00:59:50:00", 240, whole (24)) == "01:00:00:00");
    CHECK (pictureStart ("00:59:50:00", 250, whole (25)) == "01:00:00:00");
    CHECK (pictureStart ("00:59:50;00", 300, drop2997) == "01:00:00;00");
}

TEST_CASE ("At 48 to 60 linear timecode carries the label of every second frame (DESIGN 5)")
{
    CHECK (halfLabelRate (whole (48)) == whole (24));
    CHECK (halfLabelRate (whole (50)) == whole (25));
    CHECK (halfLabelRate (whole (60)) == whole (30));
    CHECK (halfLabelRate (drop5994) == drop2997);
    CHECK (halfLabelRate ({ { 48000, 1001 }, false }) == plain23976);
    CHECK (halfLabelRate (drop2997) == drop2997);
    CHECK (halfLabelRate (whole (18)) == whole (18));
}

TEST_CASE ("B26: the counting of a record label decides its frame")
{
    CHECK (countOf ("00:01:00:02", drop2997) == 1800);
    CHECK (countOf ("00:01:00:02", plain2997) == 1802);
}
