#include "exchange/WavFile.h"

#include "exchange/PlainText.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::exchange
{
namespace
{
std::string little (std::uint64_t number, int bytes)
{
    std::string text;
    for (int i = 0; i < bytes; ++i)
        text += static_cast<char> (number >> (8 * i) & 0xFF);
    return text;
}

std::string field (const std::string& text, std::size_t length)
{
    std::string padded = asciiOnly (text).substr (0, length);
    padded.resize (length, '\0');
    return padded;
}

/// A chunk with its size, and the byte that makes it even.
std::string chunk (const std::string& name, const std::string& content)
{
    return name + little (content.size(), 4) + content + (content.size() % 2 == 1 ? std::string (1, '\0') : "");
}

std::string cueChunks (const std::vector<WavCue>& cues)
{
    if (cues.empty())
        return "";
    std::string points = little (cues.size(), 4), labels = "adtl";
    for (const auto& cue : cues)
    {
        // Position and offset are of 32 bits in this chunk, in RF64 too: past 2^32 samples no point can be said.
        const auto sample = static_cast<std::uint64_t> (cue.sample);
        points += little (cue.id, 4) + little (sample, 4) + "data" + little (0, 4) + little (0, 4) + little (sample, 4);
        labels += chunk ("labl", little (cue.id, 4) + oneLine (fromUtf8OrLatin1 (cue.label)) + std::string (1, '\0'));
    }
    return chunk ("cue ", points) + chunk ("LIST", labels);
}
} // namespace

std::string wavHead (const WavLook& look, std::int64_t samples)
{
    constexpr int bytesASample = 3;
    const auto frame = static_cast<std::uint64_t> (look.channels) * bytesASample;
    const auto data = static_cast<std::uint64_t> (samples) * frame;
    const auto rate = static_cast<std::uint64_t> (look.samplesPerSecond);
    const std::string format = little (1, 2) + little (static_cast<std::uint64_t> (look.channels), 2) + little (rate, 4)
                               + little (rate * frame, 4) + little (frame, 2) + little (8 * bytesASample, 2);
    std::string bext = field (look.description, 256) + field ("Shutterbeat", 32) + field ("", 32 + 10 + 8)
                       + little (static_cast<std::uint64_t> (look.timeReference), 8) + little (1, 2);
    bext.resize (602, '\0');
    const std::string chunks = chunk ("fmt ", format) + chunk ("bext", bext) + cueChunks (look.cues);
    // RIFF sizes are of 32 bits; RF64 keeps the true ones in ds64, which has to come first.
    constexpr std::uint64_t most = 0xFFFFFFFF, ds64Size = 28;
    if (const auto whole = 4 + chunks.size() + 8 + data + data % 2; whole < most)
        return "RIFF" + little (whole, 4) + "WAVE" + chunks + "data" + little (data, 4);
    const auto whole = 4 + 8 + ds64Size + chunks.size() + 8 + data + data % 2;
    const std::string sizes =
        little (whole, 8) + little (data, 8) + little (static_cast<std::uint64_t> (samples), 8) + little (0, 4);
    return "RF64" + little (most, 4) + "WAVE" + chunk ("ds64", sizes) + chunks + "data" + little (most, 4);
}

void appendSamples (std::string& bytes, std::span<const float> samples)
{
    for (const float sample : samples)
    {
        const auto value = std::clamp<long> (std::lround (static_cast<double> (sample) * 8388608.0), -8388608, 8388607);
        bytes += static_cast<char> (value & 0xFF);
        bytes += static_cast<char> (value >> 8 & 0xFF);
        bytes += static_cast<char> (value >> 16 & 0xFF);
    }
}

void endWav (std::string& bytes)
{
    // The head is even; only the samples can be odd.
    if (bytes.size() % 2 == 1)
        bytes += '\0';
}
} // namespace shutterbeat::exchange
