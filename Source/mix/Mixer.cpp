#include "mix/Mixer.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace shutterbeat::mix
{
std::vector<std::pair<float, float>> stereoGains (int channels)
{
    constexpr float down = 0.70710678f;
    switch (channels)
    {
    case 1:
        return { { 1, 1 } };
    case 2:
        return { { 1, 0 }, { 0, 1 } };
    case 4:
        return { { 1, 0 }, { 0, 1 }, { down, 0 }, { 0, down } };
    case 5:
        return { { 1, 0 }, { 0, 1 }, { down, down }, { down, 0 }, { 0, down } };
    case 6:
        return { { 1, 0 }, { 0, 1 }, { down, down }, { 0, 0 }, { down, 0 }, { 0, down } };
    default:
        break;
    }
    std::vector<std::pair<float, float>> gains;
    for (int c = 0; c < channels; ++c)
        gains.push_back (c % 2 == 0 ? std::pair{ 1.0f, 0.0f } : std::pair{ 0.0f, 1.0f });
    return gains;
}

Mixer::Mixer (Plan plan, const time::Rational& samplesPerSecond, int playedAt)
    : rate (samplesPerSecond)
    , offset (plan.offset)
    , soundRate (playedAt)
{
    for (auto& sound : plan.sounds)
    {
        if (! sound.source || sound.muted)
            continue;
        Voice voice;
        voice.start = sampleOf (sound.start);
        const int own = sound.source->rate();
        if (time::Rational (own) != rate)
        {
            auto& made = resamplers[own];
            if (! made)
                made = std::make_unique<Resampler> (time::Rational (own) / rate);
            voice.resampler = made.get();
        }
        voice.gains = stereoGains (sound.source->channels());
        const auto gain = static_cast<float> (factorOf (sound.gain));
        for (auto& [left, right] : voice.gains)
        {
            left *= gain;
            right *= gain;
        }
        voice.sound = std::move (sound);
        voices.push_back (std::move (voice));
    }
    if (! plan.clicksMuted)
        for (const auto& click : plan.clicks)
            strokes.push_back ({ sampleOf (click.at), click.kind });
    // Two clicks on one sample are one, the stronger: two would be twice as loud.
    const auto strength = [] (ClickKind kind) { return kind == ClickKind::accent ? 0 : kind == ClickKind::plain ? 1 : 2; };
    std::sort (strokes.begin(), strokes.end(),
               [&] (const Stroke& a, const Stroke& b)
               { return a.at != b.at ? a.at < b.at : strength (a.kind) < strength (b.kind); });
    strokes.erase (std::unique (strokes.begin(), strokes.end(), [] (const Stroke& a, const Stroke& b) { return a.at == b.at; }),
                   strokes.end());
    for (const auto kind : { ClickKind::plain, ClickKind::accent, ClickKind::soft })
        clickSounds[kind] = clickSound (kind, soundRate, plan.clickLevel);
    clickCap = static_cast<float> (factorOf (std::min (plan.clickLevel, time::Rational (highestClickLevel))));
    for (const auto& tone : plan.tones)
        beeps.push_back ({ sampleOf (tone.at), sampleOf (tone.at + tone.length) });
}

std::int64_t Mixer::sampleOf (const time::Rational& seconds) const
{
    return time::roundOf ((seconds + offset) * rate);
}

bool Mixer::addVoice (const Voice& voice, std::int64_t first, std::span<float> stereo)
{
    auto& from = *voice.sound.source;
    const auto channels = static_cast<std::size_t> (from.channels());
    const auto frames = static_cast<std::int64_t> (stereo.size() / 2);
    const std::int64_t n = first - voice.start;
    const float* samples = nullptr;
    if (voice.resampler == nullptr)
    {
        if (n + frames <= 0 || n >= from.samples())
            return true;
        source.resize (static_cast<std::size_t> (frames) * channels);
        if (! from.read (n, source))
            return false;
        samples = source.data();
    }
    else
    {
        const auto& resampler = *voice.resampler;
        const std::int64_t begin = resampler.wholeAt (n) - resampler.reach() + 1;
        const std::int64_t end = resampler.wholeAt (n + frames - 1) + resampler.reach() + 1;
        if (end <= 0 || begin >= from.samples())
            return true;
        source.resize (static_cast<std::size_t> (end - begin) * channels);
        if (! from.read (begin, source))
            return false;
        resampled.resize (static_cast<std::size_t> (frames) * channels);
        resampler.render (n, resampled, source, begin, from.channels());
        samples = resampled.data();
    }
    for (std::size_t i = 0; i < static_cast<std::size_t> (frames); ++i)
        for (std::size_t c = 0; c < channels; ++c)
        {
            stereo[2 * i] += samples[i * channels + c] * voice.gains[c].first;
            stereo[2 * i + 1] += samples[i * channels + c] * voice.gains[c].second;
        }
    return true;
}

void Mixer::addClicks (std::int64_t first, std::span<float> stereo)
{
    const auto frames = static_cast<std::int64_t> (stereo.size() / 2);
    const auto longest = static_cast<std::int64_t> (clickSounds[ClickKind::plain].size());
    auto stroke = std::lower_bound (strokes.begin(), strokes.end(), first - longest + 1,
                                    [] (const Stroke& s, std::int64_t at) { return s.at < at; });
    if (stroke == strokes.end() || stroke->at >= first + frames)
        return;
    clickBus.assign (static_cast<std::size_t> (frames), 0.0f);
    for (; stroke != strokes.end() && stroke->at < first + frames; ++stroke)
    {
        const auto& sound = clickSounds[stroke->kind];
        const auto from = std::max (first, stroke->at);
        const auto to = std::min (first + frames, stroke->at + static_cast<std::int64_t> (sound.size()));
        for (auto s = from; s < to; ++s)
            clickBus[static_cast<std::size_t> (s - first)] += sound[static_cast<std::size_t> (s - stroke->at)];
    }
    for (std::size_t i = 0; i < clickBus.size(); ++i)
    {
        const float click = std::clamp (clickBus[i], -clickCap, clickCap);
        stereo[2 * i] += click;
        stereo[2 * i + 1] += click;
    }
}

void Mixer::addTones (std::int64_t first, std::span<float> stereo) const
{
    const auto frames = static_cast<std::int64_t> (stereo.size() / 2);
    for (const auto& beep : beeps)
        for (auto s = std::max (first, beep.first); s < std::min (first + frames, beep.end); ++s)
        {
            const double turns = std::fmod (1000.0 * static_cast<double> (s - beep.first) / soundRate, 1.0);
            const auto tone = static_cast<float> (0.1 * std::sin (2 * std::numbers::pi * turns));
            stereo[static_cast<std::size_t> (s - first) * 2] += tone;
            stereo[static_cast<std::size_t> (s - first) * 2 + 1] += tone;
        }
}

bool Mixer::render (std::int64_t first, std::span<float> stereo)
{
    std::fill (stereo.begin(), stereo.end(), 0.0f);
    bool whole = true;
    // In parts, so that room is needed for one part only.
    constexpr std::size_t part = 2 * 4096;
    for (std::size_t at = 0; at < stereo.size(); at += part)
    {
        const auto piece = stereo.subspan (at, std::min (part, stereo.size() - at));
        const auto begin = first + static_cast<std::int64_t> (at / 2);
        for (const auto& voice : voices)
            if (! addVoice (voice, begin, piece))
            {
                whole = false;
                failure = voice.sound.name;
            }
        addClicks (begin, piece);
        addTones (begin, piece);
    }
    return whole;
}

Result<Done> render (const Plan& plan, int samplesPerSecond, std::int64_t first, std::span<float> stereo)
{
    Mixer mixer (plan, time::Rational (samplesPerSecond), samplesPerSecond);
    if (mixer.render (first, stereo))
        return Done{};
    return unreadable (mixer.failed(), "can't be read any more; check that its disk is still there");
}
} // namespace shutterbeat::mix
