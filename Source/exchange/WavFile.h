#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace shutterbeat::exchange
{
/// A named point of a WAV file.
struct WavCue
{
    std::uint32_t id = 1; ///< no two alike
    std::int64_t sample = 0;
    std::string label;

    friend bool operator== (const WavCue&, const WavCue&) = default;
};

/// How a WAV file of 24 bits is written.
struct WavLook
{
    int samplesPerSecond = 48000;
    std::int64_t timeReference = 0; ///< samples since midnight of its first one (bext chunk, EBU Tech 3285)
    std::string description;        ///< plain ASCII, up to 256 letters
    int channels = 1;
    std::vector<WavCue> cues; ///< cue points and their labels (UTF-8)
};

/// Everything before the samples: fmt, bext, cue, LIST adtl, and the head of data. A file larger than 4 GiB becomes RF64 with
/// a ds64 chunk (EBU Tech 3306), everything else in it the same. `samples` are counted per channel.
std::string wavHead (const WavLook& look, std::int64_t samples);
/// Appends samples, full scale 1.0, each rounded once to the nearest of 24 bits and held inside them.
void appendSamples (std::string& bytes, std::span<const float> samples);
/// The pad byte that an odd chunk needs.
void endWav (std::string& bytes);
} // namespace shutterbeat::exchange
