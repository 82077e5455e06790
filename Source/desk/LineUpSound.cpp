#include "desk/LineUpSound.h"

#include "desk/TimecodeChannels.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::desk
{
namespace
{
constexpr double longest = 1800;

struct Mono
{
    std::vector<float> samples;
    double rate = 48000;
};

/// All channels but `without` mixed, and at 88.2 kHz and above samples averaged down: onsets need no more than half of 48 kHz.
Result<Mono> readMono (media::SoundReader& reader, const std::vector<int>& without, std::int64_t first, std::int64_t end,
                       std::vector<media::Peak>& peaks, const std::function<bool (double)>& goOn)
{
    const int channels = reader.info().channels, rate = reader.info().rate;
    std::vector<int> heard;
    for (int c = 0; c < channels; ++c)
        if (std::find (without.begin(), without.end(), c) == without.end())
            heard.push_back (c);
    const int fold = std::max (1, rate / 44000);
    Mono mono;
    mono.rate = static_cast<double> (rate) / fold;
    mono.samples.reserve (static_cast<std::size_t> ((end - first) / fold + 1));
    const auto block = media::SoundPeaks::finest * fold * 64;
    std::vector<float> read;
    for (auto at = first; at < end; at += block)
    {
        const auto count = std::min<std::int64_t> (block, end - at);
        read.resize (static_cast<std::size_t> (count * channels));
        if (const auto done = reader.read (at, read); ! done)
            return done.error();
        float sum = 0;
        for (std::int64_t i = 0; i < count; ++i)
        {
            float low = 1, high = -1;
            for (const int c : heard)
            {
                const float sample = read[static_cast<std::size_t> (i * channels + c)];
                sum += sample;
                low = std::min (low, sample);
                high = std::max (high, sample);
            }
            if ((i + 1) % fold == 0)
            {
                mono.samples.push_back (sum / static_cast<float> (heard.size() * static_cast<std::size_t> (fold)));
                sum = 0;
            }
            const auto whole = [] (float value)
            { return static_cast<std::int16_t> (std::lround (std::clamp (value, -1.0f, 1.0f) * 32767)); };
            if (i % media::SoundPeaks::finest == 0)
                peaks.push_back ({ whole (low), whole (high) });
            auto& peak = peaks.back();
            peak.low = std::min (peak.low, whole (low));
            peak.high = std::max (peak.high, whole (high));
        }
        if (goOn && ! goOn (static_cast<double> (at - first) / static_cast<double> (end - first)))
            return Error{ ErrorCode::cancelled, reader.info().path, "stopped" };
    }
    return mono;
}
} // namespace

Result<HeardSound> hearSound (const std::string& path, double near, double end, const Progress& progress)
{
    auto reader = media::SoundReader::open (path);
    if (! reader)
        return reader.error();
    const auto& info = reader->info();
    HeardSound heard;
    const auto timecode = timecodeChannels (*reader);
    if (! timecode)
        return timecode.error();
    for (const int channel : *timecode)
        heard.timecode.push_back (channel + 1);
    heard.length = static_cast<double> (info.samples) / info.rate;
    heard.to = heard.length;
    if (heard.length > longest)
    {
        heard.from = std::clamp (near, 0.0, heard.length - 1);
        heard.to = std::clamp (end, heard.from + 1, std::min (heard.length, heard.from + longest));
    }
    heard.peakRate = info.rate;
    const auto part = [&] (double from, double share) -> std::function<bool (double)>
    {
        return [&progress, from, share, &path] (double fraction)
        { return ! progress || progress (from + share * fraction, "listening to " + path); };
    };
    const auto first = std::llround (heard.from * info.rate), last = std::llround (heard.to * info.rate);
    std::vector<media::Peak> peaks;
    const auto mono = readMono (*reader, *timecode, first, last, peaks, part (0, 0.3));
    if (! mono)
        return mono.error();
    heard.peaks = media::SoundPeaks (std::move (peaks), last - first);
    heard.damaged = reader->damagedSamples();
    const lineup::Signal signal{ mono->samples, mono->rate };
    const auto sharp = lineup::fluxOf (signal, lineup::FluxLook::sharp(), part (0.3, 0.3));
    const auto slow = lineup::fluxOf (signal, lineup::FluxLook::slow(), part (0.6, 0.3));
    if (sharp.values.empty() || slow.values.empty())
        return Error{ ErrorCode::cancelled, path, "stopped" };
    heard.sharp = lineup::sharpOnsets (signal, sharp);
    heard.slow = lineup::slowOnsets (signal, slow);
    heard.tuning = lineup::tuningOf (signal);
    heard.pops = lineup::popsOf (signal);
    heard.sounding = lineup::soundingOf (signal);
    for (auto* onsets : { &heard.sharp, &heard.slow })
        for (auto& onset : *onsets)
            onset.seconds += heard.from;
    for (auto& pop : heard.pops)
        pop.seconds += heard.from;
    heard.sounding.first += heard.from;
    heard.sounding.last += heard.from;
    return heard;
}
} // namespace shutterbeat::desk
