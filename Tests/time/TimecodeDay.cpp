#include "time/Timecode.h"

#include "Catch.h"

using namespace shutterbeat::time;

namespace
{
/// A counter as SMPTE ST 12-1 words it: count on, and leave the first numbers out at the start of every minute that ten
/// does not divide. It shares nothing with the arithmetic it checks.
struct Counter
{
    int base, dropped;
    int hours = 0, minutes = 0, seconds = 0, frames = 0;

    void next()
    {
        if (++frames < base)
            return;
        frames = 0;
        if (++seconds < 60)
            return;
        seconds = 0;
        if (++minutes == 60)
        {
            minutes = 0;
            ++hours;
        }
        if (minutes % 10 != 0)
            frames = dropped;
    }

    void write (char* text) const
    {
        const auto two = [] (char* at, int n)
        {
            at[0] = static_cast<char> ('0' + n / 10);
            at[1] = static_cast<char> ('0' + n % 10);
        };
        two (text, hours);
        two (text + 3, minutes);
        two (text + 6, seconds);
        two (text + 9, frames);
    }
};

void wholeDay (const Rate& rate, int base, int dropped, std::int64_t expected)
{
    Counter counter{ base, dropped };
    std::string text = dropped > 0 ? "00:00:00;00" : "00:00:00:00";
    std::int64_t count = 0, wrongLabels = 0, wrongCounts = 0;
    for (; counter.hours < 24; counter.next(), ++count)
    {
        counter.write (text.data());
        wrongLabels += labelOf (count, rate).text != text ? 1 : 0;
        const auto read = parseLabel (text, rate);
        wrongCounts += ! read || read->value != count ? 1 : 0;
    }
    CHECK (count == expected);
    CHECK (wrongLabels == 0);
    CHECK (wrongCounts == 0);
}
} // namespace

TEST_CASE ("Every frame of a day at 29.97 drop-frame, both ways (handbook 1.2)")
{
    wholeDay ({ { 30000, 1001 }, true }, 30, 2, 2589408);
}

TEST_CASE ("Every frame of a day at 59.94 drop-frame, both ways (handbook 1.2)")
{
    wholeDay ({ { 60000, 1001 }, true }, 60, 4, 5178816);
}

TEST_CASE ("Every frame of a day at 25, both ways")
{
    wholeDay ({ 25, false }, 25, 0, 2160000);
}
