#include "time/Timecode.h"

#include "Catch.h"

extern "C"
{
#include <libavutil/log.h>
#include <libavutil/timecode.h>
}

#include <array>
#include <numeric>

using namespace shutterbeat::time;

namespace
{
/// Labels of libavutil for counts 0, step, 2 * step ... of a day, and its counts for those labels.
void againstLibav (const Rate& rate, int step)
{
    av_log_set_level (AV_LOG_QUIET);
    const AVRational frames{ static_cast<int> (rate.perSecond.numerator()), static_cast<int> (rate.perSecond.denominator()) };
    AVTimecode counter{};
    REQUIRE (av_timecode_init (&counter, frames, rate.dropFrame ? AV_TIMECODE_FLAG_DROPFRAME : 0, 0, nullptr) == 0);
    std::array<char, AV_TIMECODE_STR_SIZE> text{};
    std::int64_t wrongLabels = 0, wrongCounts = 0, seen = 0;
    for (std::int64_t count = 0; count < labelsPerDay (rate); count += step, ++seen)
    {
        const std::string theirs = av_timecode_make_string (&counter, text.data(), static_cast<int> (count));
        wrongLabels += labelOf (count, rate).text != theirs ? 1 : 0;
        AVTimecode read{};
        const int status = av_timecode_init_from_string (&read, frames, theirs.c_str(), nullptr);
        const auto ours = parseLabel (theirs, rate);
        wrongCounts += status != 0 || ! ours || ours->value != read.start ? 1 : 0;
    }
    INFO (rateName (rate) << ", " << seen << " labels");
    CHECK (seen > 80'000);
    CHECK (wrongLabels == 0);
    CHECK (wrongCounts == 0);
}
} // namespace

TEST_CASE ("Every label of a day at 29.97 drop-frame agrees with libavutil, both ways")
{
    againstLibav ({ { 30000, 1001 }, true }, 1);
}

TEST_CASE ("Every label of a day at 59.94 drop-frame agrees with libavutil, both ways")
{
    againstLibav ({ { 60000, 1001 }, true }, 1);
}

TEST_CASE ("Labels at the other rates agree with libavutil")
{
    for (const Rational& perSecond : { Rational (24000, 1001), Rational (24), Rational (25), Rational (30000, 1001), Rational (30),
                                       Rational (48), Rational (50), Rational (60000, 1001), Rational (60) })
        againstLibav ({ perSecond, false }, 23);
}
