#include "mix/LinearTimecode.h"

#include "mix/LabelFields.h"
#include "time/Text.h"

#include <ltc.h>

#include <algorithm>
#include <cmath>
#include <cstring>

namespace shutterbeat::mix
{
std::array<std::uint8_t, 10> ltcWord (std::int64_t count, const time::Rate& labels)
{
    static_assert (sizeof (LTCFrame) >= 10); // some compilers pad it
    const auto label = fieldsOf (count, labels);
    LTCFrame frame;
    ltc_frame_reset (&frame);
    frame.dfbit = labels.dropFrame ? 1 : 0;
    SMPTETimecode timecode{};
    timecode.hours = static_cast<unsigned char> (label.hours);
    timecode.mins = static_cast<unsigned char> (label.minutes);
    timecode.secs = static_cast<unsigned char> (label.seconds);
    timecode.frame = static_cast<unsigned char> (label.frames);
    const int perSecond = time::labelsPerSecond (labels);
    ltc_time_to_frame (&frame, &timecode, perSecond == 25 ? LTC_TV_625_50 : perSecond == 24 ? LTC_TV_FILM_24 : LTC_TV_525_60, 0);
    std::array<std::uint8_t, 10> bytes{};
    std::memcpy (bytes.data(), &frame, bytes.size());
    return bytes;
}

Result<LinearTimecode> LinearTimecode::of (const time::Rate& final, std::int64_t startCount, const time::Rational& offset)
{
    if (! time::hasTimecode (final))
        return usageError ("linear timecode", "has no labels for " + time::rateName (final)
                                                  + " frames a second; choose a final rate with timecode, such as 24 or 25");
    LinearTimecode code;
    code.labelRate = time::halfLabelRate (final);
    code.midnight = time::Rational (startCount) / final.perSecond - offset;
    if (! (code.labelRate == final))
        code.theNotes.push_back ("at " + time::rateName (final) + " linear timecode carries every second label, counted at "
                                 + time::rateName (code.labelRate));
    return code;
}

void LinearTimecode::render (const time::Rational& samplesPerSecond, std::int64_t first, std::span<float> mono) const
{
    constexpr double peak = 0.25;
    const auto perLabel = samplesPerSecond / labelRate.perSecond; // samples
    const auto zero = midnight * samplesPerSecond;                // samples from label 0 to sample 0
    const double length = time::toDouble (perLabel);
    // Half an edge on either side of a turn, in samples: 40 microseconds in all, and no less than one sample.
    const double edge = std::max (0.5, time::toDouble (samplesPerSecond) * 20e-6);
    const auto size = static_cast<std::int64_t> (mono.size());
    std::int64_t count = time::floorOf ((time::Rational (first) + zero) / perLabel);
    for (std::int64_t at = 0; at < size; ++count)
    {
        // A word has an even number of turns (its parity bit sees to that): every label begins with the same rise.
        const auto begin = time::Rational (count) * perLabel - zero; // exact sample place
        const std::int64_t whole = time::floorOf (begin);
        const double part = time::toDouble (begin - time::Rational (whole));
        const auto word = ltcWord (count, labelRate);
        std::vector<double> turns; // from `whole`
        for (int bit = 0; bit < 80; ++bit)
        {
            turns.push_back (part + length * bit / 80);
            if ((word[static_cast<std::size_t> (bit / 8)] >> (bit % 8) & 1) != 0)
                turns.push_back (part + length * (bit + 0.5) / 80);
        }
        turns.push_back (part + length); // the rise of the next label
        const std::int64_t end = time::ceilOf (begin + perLabel) - first;
        std::size_t next = 0;
        for (; at < std::min (size, end); ++at)
        {
            const double x = static_cast<double> (at + first - whole);
            while (next < turns.size() && turns[next] <= x)
                ++next;
            // After turn 0 it is high, after turn 1 low, and so on.
            const double level = next % 2 == 1 ? peak : -peak;
            const double since = next > 0 ? x - turns[next - 1] : edge;
            const double until = next < turns.size() ? turns[next] - x : edge;
            mono[static_cast<std::size_t> (at)] = static_cast<float> (level * std::min ({ 1.0, since / edge, until / edge }));
        }
    }
}

namespace
{
/// Noise may end like a label. What no clock shows is none, nor is what has less than a sample for each of its 80 bits: where a
/// label begins libltc only guesses when it came in on the middle of another.
bool canBe (const SMPTETimecode& timecode, std::int64_t first, std::int64_t end)
{
    return timecode.hours < 24 && timecode.mins < 60 && timecode.secs < 60 && timecode.frame < 30 && end - first >= 80;
}
} // namespace

struct LtcFinder::State
{
    using Decoder = std::unique_ptr<LTCDecoder, int (*) (LTCDecoder*)>;

    [[nodiscard]] Decoder anew() const { return { ltc_decoder_create (samplesPerLabel, 64), ltc_decoder_free }; }

    int samplesPerSecond = 0, samplesPerLabel = 0;
    Decoder decoder{ nullptr, ltc_decoder_free };
    std::int64_t fed = 0;
    std::int64_t heard = 0; ///< sample up to which there was a label, or from which on the decoder is new
};

LtcFinder::LtcFinder (int samplesPerSecond, int framesPerSecond)
    : state (std::make_unique<State>())
{
    state->samplesPerSecond = samplesPerSecond;
    state->samplesPerLabel = samplesPerSecond / std::max (1, framesPerSecond);
    state->decoder = state->anew();
}
LtcFinder::~LtcFinder() = default;
LtcFinder::LtcFinder (LtcFinder&&) noexcept = default;
LtcFinder& LtcFinder::operator= (LtcFinder&&) noexcept = default;

std::vector<FoundLabel> LtcFinder::feed (std::span<const float> mono)
{
    std::vector<FoundLabel> found;
    std::vector<float> piece;
    for (std::size_t at = 0; at < mono.size(); at += 1024)
    {
        const auto part = mono.subspan (at, std::min<std::size_t> (1024, mono.size() - at));
        piece.assign (part.begin(), part.end()); // libltc asks for samples that may be written to
        ltc_decoder_write_float (state->decoder.get(), piece.data(), piece.size(), state->fed);
        state->fed += static_cast<std::int64_t> (piece.size());
        LTCFrameExt frame;
        while (ltc_decoder_read (state->decoder.get(), &frame) > 0)
        {
            SMPTETimecode timecode{};
            ltc_frame_to_time (&timecode, &frame.ltc, 0);
            FoundLabel label;
            label.first = std::max<std::int64_t> (0, frame.off_start);
            label.end = std::min<std::int64_t> (state->fed, frame.off_end + 1); // it guesses at this, too
            if (! canBe (timecode, label.first, label.end))
                continue;
            label.dropFrame = frame.ltc.dfbit != 0;
            label.text = time::padded (timecode.hours, 2) + ":" + time::padded (timecode.mins, 2) + ":"
                         + time::padded (timecode.secs, 2) + (label.dropFrame ? ";" : ":") + time::padded (timecode.frame, 2);
            label.backward = frame.reverse != 0;
            found.push_back (std::move (label));
            state->heard = state->fed;
        }
        // Hiss before the code makes libltc take turns for far too short, and it then hears nothing but silence for good.
        if (state->fed - state->heard > state->samplesPerSecond)
        {
            state->decoder = state->anew();
            state->heard = state->fed;
        }
    }
    return found;
}
} // namespace shutterbeat::mix
