#include "time/Clock.h"

#include "Catch.h"
#include "time/Timecode.h"

#include <array>

using namespace shutterbeat::time;

TEST_CASE ("B07: the whole amount is rounded once, then split: never :60")
{
    CHECK (longClockText ({ 599996, 10000 }) == "00:01:00.000");
    CHECK (longClockText ({ 35999996, 10000 }) == "01:00:00.000");
    CHECK (longClockText ({ 599994, 10000 }) == "00:00:59.999");
    CHECK (clockText ({ 599996, 10000 }) == "1:00.00");
    CHECK (clockText ({ 35999996, 10000 }) == "1:00:00.00");
    const Rate rate{ 24, false };
    CHECK (labelOf (roundOf (Rational (9999, 10000) * rate.perSecond), rate).text == "00:00:01:00");
    CHECK (labelOf (roundOf (Rational (59999, 1000) * rate.perSecond), rate).text == "00:01:00:00");
    CHECK_PROPERTY ("seconds stay below 60 and the text is the rounded amount",
                    []
                    {
                        const Rational seconds (*rc::gen::inRange<std::int64_t> (-100'000'000, 100'000'000),
                                                *rc::gen::inRange (1, 5000));
                        const int decimals = *rc::gen::inRange (0, 7);
                        const std::string text = longClockText (seconds, decimals);
                        const auto colon = text.rfind (':');
                        const auto shown = parseRational (text.substr (colon + 1));
                        const auto minutes = parseRational (text.substr (colon - 2, 2));
                        const bool below = text[0] == '-';
                        const auto hours = parseRational (text.substr (below ? 1 : 0, colon - 3 - (below ? 1 : 0)));
                        RC_ASSERT (shown.ok() && minutes.ok() && hours.ok());
                        RC_ASSERT (*shown < Rational (60));
                        RC_ASSERT (*minutes < Rational (60));
                        const Rational sum = *hours * Rational (3600) + *minutes * Rational (60) + *shown;
                        RC_ASSERT (decimalText (below ? -sum : sum, decimals) == decimalText (seconds, decimals));
                    });
}

TEST_CASE ("Clock times as they are shown")
{
    CHECK (secondsText ({ 12346, 100 }) == "123.46");
    CHECK (clockText ({ 12346, 100 }) == "2:03.46");
    CHECK (clockText ({ 372346, 100 }) == "1:02:03.46");
    CHECK (clockText (-4) == "-0:04.00");
    CHECK (clockText ({ -1, 1000 }) == "0:00.00");
    CHECK (clockText ({ 61, 2 }, 0) == "0:31");
    CHECK (longClockText (-4, 0) == "-00:00:04");
    // B01: frame 2415 at 23.976 to the millisecond.
    CHECK (longClockText (Rational (2415) * Rational (1001, 24000)) == "00:01:40.726");
}

TEST_CASE ("WORKED J: a sheet whose rows must add sums its printed rows")
{
    const Rational cue (304, 10);
    std::int64_t printed = 0;
    Rational exact;
    for (int i = 0; i < 10; ++i)
    {
        CHECK (clockText (cue, 0) == "0:30");
        printed += roundOf (cue);
        exact += cue;
    }
    CHECK (clockText (printed, 0) == "5:00");
    CHECK (clockText (exact, 0) == "5:04");
}

TEST_CASE ("WORKED I: sound at 44.1 kHz against 24 frames a second, ties up")
{
    const std::array<std::int64_t, 5> samples{ 0, 1838, 3675, 5513, 7350 };
    for (std::size_t frame = 0; frame < samples.size(); ++frame)
        CHECK (sampleAt (Rational (static_cast<std::int64_t> (frame)) / Rational (24), 44100) == samples[frame]);
    CHECK (sampleAt (Rational (-1, 24), 44100) == -1837); // -1837.5, later
}

TEST_CASE ("Samples of a frame at 48 kHz (handbook 1.5, 3.1)")
{
    struct Row
    {
        Rational rate, samples;
    };
    for (const Row& row :
         { Row{ { 24000, 1001 }, 2002 }, Row{ 24, 2000 }, Row{ 25, 1920 }, Row{ { 30000, 1001 }, { 8008, 5 } }, Row{ 30, 1600 },
           Row{ 18, { 8000, 3 } }, Row{ 16, 3000 }, Row{ { 200, 11 }, 2640 }, Row{ 20, 2400 }, Row{ { 240, 11 }, 2200 } })
    {
        CHECK (Rational (48000) / row.rate == row.samples);
        // Nothing adds up over a long film: the millionth frame is where it belongs.
        CHECK (sampleAt (Rational (1'000'000) / row.rate, 48000) == roundOf (row.samples * Rational (1'000'000)));
    }
    // Five frames at 29.97 are 8008 samples: 0, 1602, 3203, 4805, 6406, 8008.
    const std::array<std::int64_t, 6> five{ 0, 1602, 3203, 4805, 6406, 8008 };
    for (std::size_t frame = 0; frame < five.size(); ++frame)
        CHECK (sampleAt (Rational (static_cast<std::int64_t> (frame)) * Rational (1001, 30000), 48000) == five[frame]);
}

TEST_CASE ("A clock of more seconds than fit is the same to either side")
{
    const Rational far = parseRational ("138710000228710000220909").value();
    CHECK (clockText (-far) == "-" + clockText (far));
    CHECK (longClockText (-far) == "-" + longClockText (far));
}
