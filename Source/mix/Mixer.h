#pragma once

#include "mix/ClickSound.h"
#include "mix/Resampler.h"
#include "mix/SampleSource.h"

#include <map>
#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::mix
{
/// A sound in its place.
struct PlacedSound
{
    std::shared_ptr<SampleSource> source;
    time::Rational start; ///< exact seconds from the origin of the grid to its sample 0; below zero is before it
    time::Rational gain;  ///< decibels
    bool muted = false;
    std::string name; ///< for messages
};

struct Click
{
    time::Rational at; ///< exact seconds from the origin
    ClickKind kind = ClickKind::plain;
};

/// A sync pop or other tone: 1 kHz, 20 dB below full scale.
struct Tone
{
    time::Rational at, length; ///< exact seconds; a pop lasts one delivered frame
};

/// Everything that is heard, placed in exact seconds. A value.
struct Plan
{
    std::vector<PlacedSound> sounds;
    std::vector<Click> clicks; ///< in any order
    time::Rational clickLevel{ usualClickLevel };
    bool clicksMuted = false;
    std::vector<Tone> tones;
    time::Rational offset; ///< added to every place; above zero is later
};

/// Left and right gains of each channel of a sound: one channel goes to both, two stay, four to six are taken as L R (C LFE) Ls
/// Rs and folded down as in ITU-R BS.775 (centre and surrounds 3 dB down, no LFE), of other counts odd ones go left and even
/// ones right.
std::vector<std::pair<float, float>> stereoGains (int channels);

/// Renders a plan on one sample grid, stereo, full scale 1.0, not limited: sums may exceed it. Sample s is the moment
/// s / rate from the origin. Every sound starts on the whole sample round ((start + offset) * rate), ties up, and so does every
/// click; nothing is accumulated, so the same sample is the same number in whatever blocks and order it is asked for.
/// One thread at a time.
class Mixer
{
public:
    /// `samplesPerSecond` of the film's time: the sound card's rate, or that divided by the speed the film runs at
    /// (varispeed: pitch follows). `soundRate` is the rate the samples are played at, for the click's own sound.
    /// Sounds of another rate are resampled.
    Mixer (Plan plan, const time::Rational& samplesPerSecond, int soundRate);

    /// Samples first to first + stereo.size() / 2 - 1, interleaved left and right. False when a sound could not be read;
    /// it is silent then, and failed() says which.
    bool render (std::int64_t first, std::span<float> stereo);
    [[nodiscard]] const std::string& failed() const { return failure; }
    /// The sample of the grid nearest to a moment of the plan, offset counted in.
    [[nodiscard]] std::int64_t sampleOf (const time::Rational& seconds) const;

private:
    struct Voice
    {
        PlacedSound sound;
        std::int64_t start = 0;
        const Resampler* resampler = nullptr; ///< null: the grid's own rate
        std::vector<std::pair<float, float>> gains;
    };
    struct Stroke
    {
        std::int64_t at = 0;
        ClickKind kind = ClickKind::plain;
    };
    struct Beep
    {
        std::int64_t first = 0, end = 0;
    };

    bool addVoice (const Voice& voice, std::int64_t first, std::span<float> stereo);
    void addClicks (std::int64_t first, std::span<float> stereo);
    void addTones (std::int64_t first, std::span<float> stereo) const;

    time::Rational rate;
    time::Rational offset;
    int soundRate;
    std::map<int, std::unique_ptr<Resampler>> resamplers; ///< by source rate
    std::vector<Voice> voices;
    std::vector<Stroke> strokes; ///< in order
    std::map<ClickKind, std::vector<float>> clickSounds;
    float clickCap = 1;
    std::vector<Beep> beeps;
    std::vector<float> source, resampled, clickBus; ///< kept for their room
    std::string failure;
};

/// A plan rendered once. Error: a sound that can't be read.
Result<Done> render (const Plan& plan, int samplesPerSecond, std::int64_t first, std::span<float> stereo);
} // namespace shutterbeat::mix
