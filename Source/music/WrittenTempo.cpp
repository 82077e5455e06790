#include "music/WrittenTempo.h"

namespace shutterbeat::music
{
namespace
{
constexpr std::int64_t microsPerMinute = 60'000'000;
constexpr std::int64_t mostMicroseconds = 0xFFFFFF;
} // namespace

time::Rational WrittenTempo::secondsPerQuarter() const
{
    return { microsPerQuarter, 1'000'000 };
}

time::Rational WrittenTempo::beatsPerMinute() const
{
    return { microsPerMinute, microsPerQuarter };
}

Result<WrittenTempo> writtenTempo (const time::Rational& beatsPerMinute)
{
    const auto where = [&] { return "tempo " + time::fractionText (beatsPerMinute); };
    if (! beatsPerMinute.valid() || beatsPerMinute.sign() <= 0)
        return usageError (where(), "has to be above zero beats a minute");
    const auto micros = time::Rational (microsPerMinute) / beatsPerMinute;
    if (! micros.valid() || micros >= time::Rational (2 * mostMicroseconds + 1, 2))
        return usageError (where(), "is slower than a MIDI file can say; use 3.58 beats a minute or more");
    const auto whole = time::roundOf (micros);
    if (whole < 1)
        return usageError (where(), "is faster than a MIDI file can say");
    return WrittenTempo{ whole };
}

std::string tempoText (const WrittenTempo& tempo)
{
    return time::decimalText (tempo.beatsPerMinute(), 2);
}
} // namespace shutterbeat::music
