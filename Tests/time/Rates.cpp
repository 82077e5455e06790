#include "time/Rate.h"

#include "Catch.h"

#include <array>

using namespace shutterbeat;
using namespace shutterbeat::time;

TEST_CASE ("The rates of SMPTE ST 12-1:2014 by name (handbook 1.1)")
{
    struct Row
    {
        const char* name;
        int num, den, labels;
        bool drop;
    };
    const std::array<Row, 12> rows{ { { "23.976", 24000, 1001, 24, false },
                                      { "24", 24, 1, 24, false },
                                      { "25", 25, 1, 25, false },
                                      { "29.97", 30000, 1001, 30, false },
                                      { "29.97df", 30000, 1001, 30, true },
                                      { "30", 30, 1, 30, false },
                                      { "47.952", 48000, 1001, 48, false },
                                      { "48", 48, 1, 48, false },
                                      { "50", 50, 1, 50, false },
                                      { "59.94", 60000, 1001, 60, false },
                                      { "59.94df", 60000, 1001, 60, true },
                                      { "60", 60, 1, 60, false } } };
    for (const auto& row : rows)
    {
        INFO (row.name);
        const auto rate = parseRate (row.name);
        REQUIRE (rate);
        CHECK (rate->note.empty());
        CHECK (rate->value.perSecond == Rational (row.num, row.den));
        CHECK (rate->value.dropFrame == row.drop);
        CHECK (hasTimecode (rate->value));
        CHECK (labelsPerSecond (rate->value) == row.labels);
        CHECK (rateName (rate->value) == row.name);
        const auto fraction = parseRate (fractionText (rate->value.perSecond) + (row.drop ? "df" : ""));
        REQUIRE (fraction);
        CHECK (fraction->value == rate->value);
    }
}

TEST_CASE ("Other final rates are fractions without timecode")
{
    for (const char* name : { "16", "18", "200/11", "20", "240/11", "22", "100/3", "240" })
    {
        const auto rate = parseRate (name);
        INFO (name);
        REQUIRE (rate);
        CHECK_FALSE (hasTimecode (rate->value));
        CHECK (rateName (rate->value) == name);
    }
}

TEST_CASE ("A rounded name of a rate snaps to the rate and says so")
{
    for (const char* name : { "23.98", "23.97" })
    {
        const auto rate = parseRate (name);
        REQUIRE (rate);
        CHECK (rate->value.perSecond == Rational (24000, 1001));
        CHECK (rate->note.find ("24000/1001") != std::string::npos);
    }
}

TEST_CASE ("Rates that do not exist are refused with a reason")
{
    const auto refused = [] (const char* text, const char* reason)
    {
        const auto rate = parseRate (text);
        INFO (text);
        REQUIRE_FALSE (rate);
        CHECK (rate.error().code == ErrorCode::usage);
        CHECK (rate.error().text().find (text) != std::string::npos);
        CHECK (rate.error().text().find (reason) != std::string::npos);
    };
    // Drop-frame exists at 29.97 and 59.94 only.
    for (const char* text : { "24df", "25df", "30df", "60df", "50df", "23.976df", "47.952df" })
        refused (text, "drop-frame");
    for (const char* text : { "", "df", "fast", "24,5", "23.5", "1/0", "24/", "NaN" })
        refused (text, "29.97df");
    for (const char* text : { "0", "-24", "241", "0/5" })
        refused (text, "range");
    refused ("24000000001/1000000000", "digits");
}

TEST_CASE ("Running speeds in every spelling")
{
    struct Row
    {
        const char* text;
        Rational speed;
        bool says;
    };
    // Snaps: the archive rates of SMPTE ST 428-21:2011, and 24000/1001. Feet and minutes: 35 mm, 16 frames a foot (handbook 2.4).
    for (const Row& row : { Row{ "16", 16, false },
                            Row{ "18", 18, false },
                            Row{ "18.5", { 37, 2 }, false },
                            Row{ "200/11", { 200, 11 }, false },
                            Row{ "18.18", { 200, 11 }, true },
                            Row{ "18.182", { 200, 11 }, true },
                            Row{ "21.82", { 240, 11 }, true },
                            Row{ "21.818", { 240, 11 }, true },
                            Row{ "23.98", { 24000, 1001 }, true },
                            Row{ "23.976", { 24000, 1001 }, true },
                            Row{ "23.9760", { 24000, 1001 }, true },
                            Row{ "2997/125", { 2997, 125 }, false },
                            Row{ "18.180", { 200, 11 }, true },
                            Row{ "909/50", { 909, 50 }, false },
                            Row{ "60ft/min", 16, false },
                            Row{ "62.5ft/min", { 50, 3 }, false },
                            Row{ "70ft/min", { 56, 3 }, false },
                            Row{ "75ft/min", 20, false },
                            Row{ "80ft/min", { 64, 3 }, false },
                            Row{ "85 ft/min", { 68, 3 }, false },
                            Row{ "90ft/min", 24, false },
                            Row{ "100 FT/MIN", { 80, 3 }, false },
                            Row{ "120ft/min", 32, false },
                            Row{ "10min/1000ft", { 80, 3 }, false },
                            Row{ "13min/1000ft", { 800, 39 }, false },
                            Row{ "16min/1000ft", { 50, 3 }, false },
                            Row{ "50/3min/1000ft", 16, false },
                            Row{ "8.5min/1000ft", { 1600, 51 }, false },
                            Row{ "1", 1, false },
                            Row{ "120", 120, false } })
    {
        INFO (row.text);
        const auto speed = parseSpeed (row.text);
        REQUIRE (speed);
        CHECK (speed->value == row.speed);
        CHECK (speed->note.empty() != row.says);
        const auto back = parseSpeed (speedName (speed->value));
        REQUIRE (back);
        CHECK (back->value == row.speed);
    }
    CHECK (decimalText (parseSpeed ("13min/1000ft")->value, 2) == "20.51");
    CHECK (decimalText (parseSpeed ("14min/1000ft")->value, 2) == "19.05");
    CHECK (decimalText (parseSpeed ("15min/1000ft")->value, 2) == "17.78");
    for (const char* text : { "", "0", "0.5", "121", "-18", "fast", "18,5", "0min/1000ft", "-5min/1000ft", "ft/min", "1ft/min",
                              "9999ft/min", "18 fps", "1/0" })
    {
        INFO (text);
        CHECK_FALSE (parseSpeed (text));
    }
}

TEST_CASE ("Speeds as they are shown, and as they are read back exactly")
{
    CHECK (speedText (18) == "18");
    CHECK (speedText ({ 37, 2 }) == "18.5");
    CHECK (speedText ({ 200, 11 }) == "200/11 (18.182)");
    CHECK (speedText ({ 64, 3 }) == "64/3 (21.333)");
    // Its decimal would be read as 24000/1001.
    CHECK (speedText ({ 2997, 125 }) == "2997/125 (23.976)");
    for (int thousandths = 1000; thousandths <= 120000; ++thousandths)
        REQUIRE (parseSpeed (speedName ({ thousandths, 1000 }))->value == Rational (thousandths, 1000));
    CHECK_PROPERTY ("speedName is exact",
                    []
                    {
                        const int den = *rc::gen::inRange (1, 100000);
                        const Rational speed (*rc::gen::inRange (den, 120 * den + 1), den);
                        const auto back = parseSpeed (speedName (speed));
                        RC_ASSERT (back.ok());
                        RC_ASSERT (back->value == speed);
                    });
}
