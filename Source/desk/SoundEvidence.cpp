#include "desk/SoundEvidence.h"

#include "mix/LinearTimecode.h"
#include "time/Clock.h"
#include "time/Timecode.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace shutterbeat::desk
{
namespace
{
std::string shown (const time::Rational& seconds)
{
    return time::clockText (seconds, 3);
}

/// A short sound with silence on either side.
struct Burst
{
    std::int64_t first = 0, end = 0;
};

constexpr float silent = 0.001f, loud = 0.02f;

/// The bursts of a mono sound, in order.
std::vector<Burst> burstsOf (const std::vector<float>& mono, std::int64_t quiet)
{
    std::vector<Burst> bursts;
    std::optional<Burst> open;
    bool isLoud = false;
    const auto close = [&]
    {
        if (open && isLoud)
            bursts.push_back (*open);
        open.reset();
        isLoud = false;
    };
    for (std::int64_t s = 0; s < static_cast<std::int64_t> (mono.size()); ++s)
    {
        const auto level = std::abs (mono[static_cast<std::size_t> (s)]);
        if (level <= silent)
        {
            if (open && s - open->end > quiet)
                close();
            continue;
        }
        if (! open)
            open = Burst{ s, s };
        open->end = s + 1;
        isLoud = isLoud || level > loud;
    }
    close();
    return bursts;
}

/// Turns a second, by zero crossings.
double pitchOf (const std::vector<float>& mono, const Burst& burst, int rate)
{
    int crossings = 0;
    for (auto s = burst.first + 1; s < burst.end; ++s)
        crossings += (mono[static_cast<std::size_t> (s - 1)] < 0) != (mono[static_cast<std::size_t> (s)] < 0) ? 1 : 0;
    return crossings / 2.0 * rate / static_cast<double> (std::max<std::int64_t> (1, burst.end - burst.first));
}
} // namespace

Result<SoundEvidence> placeByLtc (media::SoundReader& reader, int channel, const film::Timings& timings, std::size_t reel,
                                  std::optional<int> most, const Progress& progress)
{
    const auto& info = reader.info();
    if (channel < 1 || channel > info.channels)
        return usageError ("channel " + std::to_string (channel), "the sound has " + std::to_string (info.channels));
    const auto& final = timings.delivery().rate;
    if (! time::hasTimecode (final))
        return usageError ("LTC", "says labels, but the final rate " + time::rateName (final)
                                      + " has no timecode; say where the sound starts");
    const auto labels = time::halfLabelRate (final);
    mix::LtcFinder finder (info.rate, time::labelsPerSecond (labels));
    const auto wide = static_cast<std::size_t> (info.channels);
    std::vector<float> block (static_cast<std::size_t> (info.rate) * wide), mono (static_cast<std::size_t> (info.rate));
    // Ten labels on end that agree where sample 0 lies: one alone may be a misreading.
    std::optional<std::int64_t> previous;
    int run = 0;
    const auto end = most ? std::min (info.samples, std::int64_t (*most) * info.rate) : info.samples;
    for (std::int64_t at = 0; at < end; at += info.rate)
    {
        if (progress && ! progress (static_cast<double> (at) / static_cast<double> (info.samples), "Reading linear timecode"))
            return Error{ ErrorCode::cancelled, info.path, "stopped" };
        if (const auto read = reader.read (at, block); ! read)
            return read.error();
        for (std::size_t i = 0; i < mono.size(); ++i)
            mono[i] = block[i * wide + static_cast<std::size_t> (channel - 1)];
        for (const auto& label : finder.feed (mono))
        {
            const auto count = time::parseLabel (label.text, labels, time::LabelReading::media);
            run = count && ! label.backward && previous && count->value == *previous + 1 ? run + 1 : 0;
            previous = count ? std::optional<std::int64_t> (count->value) : std::nullopt;
            if (run < 10)
                continue;
            const auto start = time::Rational (timings.startCount (reel)) / final.perSecond;
            const auto place = time::Rational (count->value) / labels.perSecond - start
                               - time::Rational (label.first) / time::Rational (info.rate);
            // The sound starts on a whole sample of its own; what is finer is the decoder's.
            const auto whole = time::Rational (time::roundOf (place * time::Rational (info.rate))) / time::Rational (info.rate);
            const auto note = "linear timecode on channel " + std::to_string (channel) + " says " + label.text + " at "
                              + shown (time::Rational (label.first) / time::Rational (info.rate)) + " of the sound";
            return SoundEvidence{ whole, note };
        }
    }
    return usageError ("LTC", "channel " + std::to_string (channel) + " has no linear timecode that runs for ten labels at "
                                  + time::rateName (labels) + "; name another channel, or say where the sound starts");
}

Result<SoundEvidence> placeByPop (media::SoundReader& reader, const film::Timings& timings)
{
    const auto& info = reader.info();
    const auto wide = static_cast<std::size_t> (info.channels);
    const auto count = std::min (info.samples, std::int64_t{ 70 } * info.rate);
    std::vector<float> block (static_cast<std::size_t> (info.rate) * wide), mono;
    for (std::int64_t at = 0; at < count; at += info.rate)
    {
        if (const auto read = reader.read (at, block); ! read)
            return read.error();
        for (std::size_t i = 0; i < static_cast<std::size_t> (info.rate); ++i)
        {
            float sum = 0;
            for (std::size_t c = 0; c < wide; ++c)
                sum += block[i * wide + c];
            mono.push_back (sum / static_cast<float> (wide));
        }
    }
    const auto& delivery = timings.delivery();
    const double frame = 1 / time::toDouble (delivery.rate.perSecond);
    for (const auto& burst : burstsOf (mono, info.rate / 4))
    {
        const double length = static_cast<double> (burst.end - burst.first) / info.rate, pitch = pitchOf (mono, burst, info.rate);
        if (length < 0.7 * frame || length > 1.3 * frame || pitch < 900 || pitch > 1100)
            continue;
        const auto before = timings.clockOf (film::deliveredFrame (time::Rational (-2), delivery.countingRate()));
        const auto at = time::Rational (burst.first) / time::Rational (info.rate);
        return SoundEvidence{ before - at, "its pop is heard " + shown (at) + " into the sound and belongs " + shown (-before)
                                               + " before the picture" };
    }
    return usageError ("pop", "no frame of 1 kHz with silence about it is heard in the first 70 seconds");
}
} // namespace shutterbeat::desk
