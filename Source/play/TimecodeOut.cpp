#include "play/TimecodeOut.h"

#include <algorithm>

namespace shutterbeat::play
{
namespace
{
}

MidiTimecodeOut::MidiTimecodeOut (mix::MidiRate midiRate, std::int64_t count, const time::Rational& later)
    : rate (std::move (midiRate))
    , startCount (count)
    , offset (later)
{
}

void MidiTimecodeOut::standing (const time::Rational& at)
{
    runs = false;
    seconds = at;
    toTell = at;
}

void MidiTimecodeOut::running (const time::Rational& at, const time::Rational& speed, std::int64_t clockNanoseconds)
{
    if (speed.sign() <= 0)
        return standing (at); // quarter frames of a film that runs back are read by few; the place it stops at is sent
    runs = true;
    toTell.reset();
    seconds = at;
    factor = speed;
    clock = told = clockNanoseconds;
}

std::vector<DueMidi> MidiTimecodeOut::due (std::int64_t untilClock)
{
    std::vector<DueMidi> messages;
    if (toTell)
    {
        const auto bytes = mix::midiFullFrame (mix::midiCountAt (rate, startCount, *toTell, offset), rate);
        messages.push_back ({ untilClock, { bytes.begin(), bytes.end() } });
        toTell.reset();
    }
    if (! runs || untilClock <= told)
        return messages;
    const auto filmAt = [&] (std::int64_t moment) { return seconds + factor * time::Rational (moment - clock, second); };
    const auto from = std::max (told, untilClock - second / 10);
    for (const auto& quarter : mix::midiQuartersBetween (rate, startCount, filmAt (from), filmAt (untilClock), offset))
    {
        const auto moment = clock + time::roundOf ((quarter.at - seconds) / factor * time::Rational (second));
        messages.push_back ({ moment, { 0xF1, quarter.data } });
    }
    told = untilClock;
    return messages;
}

SoundSupply timecodeSupply (const mix::LinearTimecode& code)
{
    return [code] (const time::Rational& samplesPerSecond, int) -> SoundRender
    {
        return [code, samplesPerSecond, mono = std::vector<float>()] (std::int64_t first, std::span<float> stereo) mutable
        {
            mono.resize (stereo.size() / 2);
            code.render (samplesPerSecond, first, mono);
            for (std::size_t i = 0; i < mono.size(); ++i)
                stereo[2 * i] = stereo[2 * i + 1] = mono[i];
            return true;
        };
    };
}
} // namespace shutterbeat::play
