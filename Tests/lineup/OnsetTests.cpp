#include "Catch.h"

#include "lineup/OnsetScore.h"
#include "lineup/Onsets.h"
#include "media/SoundReader.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <sstream>

using namespace shutterbeat;
using namespace shutterbeat::lineup;

namespace
{
/// The first number of every line that begins with one.
std::vector<double> firstNumbers (std::istream& in)
{
    std::vector<double> all;
    for (std::string line; std::getline (in, line);)
        if (! line.empty() && line[0] != '#')
            all.push_back (std::stod (line));
    std::sort (all.begin(), all.end());
    return all;
}

struct Mono
{
    std::vector<float> samples;
    double rate = 0;
};

Mono monoOf (const std::string& path)
{
    auto reader = media::SoundReader::open (path);
    REQUIRE (reader.ok());
    const auto channels = static_cast<std::size_t> (reader->info().channels);
    std::vector<float> all (static_cast<std::size_t> (reader->info().samples) * channels);
    REQUIRE (reader->read (0, all).ok());
    Mono mono{ {}, static_cast<double> (reader->info().rate) };
    for (std::size_t i = 0; i + channels <= all.size(); i += channels)
    {
        float sum = 0;
        for (std::size_t c = 0; c < channels; ++c)
            sum += all[i + c];
        mono.samples.push_back (sum / static_cast<float> (channels));
    }
    return mono;
}

std::vector<double> found (const Signal& signal)
{
    std::vector<double> all;
    for (const auto& onset : sharpOnsets (signal, fluxOf (signal, FluxLook::sharp())))
        all.push_back (onset.seconds);
    return all;
}

/// What aubioonset, as Debian has it and with its own settings, finds; nothing where it is not installed.
std::vector<double> aubioOnsets (const std::string& path)
{
    FILE* pipe = ::popen (("aubioonset -i '" + path + "' 2>/dev/null").c_str(), "r");
    if (pipe == nullptr)
        return {};
    std::string text;
    for (int c = std::fgetc (pipe); c != EOF; c = std::fgetc (pipe))
        text.push_back (static_cast<char> (c));
    ::pclose (pipe);
    std::istringstream in (text);
    return firstNumbers (in);
}
} // namespace

TEST_CASE ("On annotated recordings at least as good as aubioonset")
{
    const auto folder = tests::testData ("data/audio/");
    if (! std::filesystem::exists (folder))
    {
        WARN ("no recordings at " + folder + "; skipped");
        return;
    }
    struct Recording
    {
        std::string sound, annotated;
        double aubio; ///< handbook ADVICE-music 4: aubioonset's F, strokes merged; used where aubio-tools are not installed
    };
    for (const Recording& one : { Recording{ "MDB_Rock_MIX.wav", "MDB_Rock_class.txt", .758 },
                                  Recording{ "MDB_Rockabilly_Drum.wav", "MDB_Rockabilly_class.txt", 1.0 },
                                  Recording{ "madmom_sample.wav", "madmom_sample.onsets", .828 } })
    {
        const auto mono = monoOf (folder + one.sound);
        std::ifstream in (folder + one.annotated);
        const auto annotated = mergedStrokes (firstNumbers (in));
        const auto score = scoreOnsets (annotated, mergedStrokes (found ({ mono.samples, mono.rate })));
        const auto theirs = aubioOnsets (folder + one.sound);
        const double aubio = theirs.empty() ? one.aubio : scoreOnsets (annotated, mergedStrokes (theirs)).fMeasure;
        std::printf ("onsets of %s: F %.3f (precision %.3f, recall %.3f), aubioonset %.3f%s\n", one.sound.c_str(), score.fMeasure,
                     score.precision, score.recall, aubio, theirs.empty() ? " as published here, it is not installed" : "");
        CHECK (score.fMeasure >= aubio);
    }
}

TEST_CASE ("Clicks in silence are found where they begin")
{
    // CASES B22: 1 ms clicks at samples 48000, 96000 and 144001, digital silence or faint noise between them.
    for (const int rate : { 48000, 44100, 96000 })
        for (const bool noise : { false, true })
        {
            std::vector<float> samples (static_cast<std::size_t> (5 * rate), 0.0f);
            std::uint32_t state = 1;
            for (auto& sample : samples)
            {
                state = state * 1664525u + 1013904223u;
                sample = noise ? 1e-5f * (static_cast<float> (state >> 8) / 8388608.0f - 1) : 0.0f;
            }
            const std::vector<int> starts{ 48000, 96000, 144001 };
            for (const int start : starts)
                for (int i = 0; i < rate / 1000; ++i)
                    samples[static_cast<std::size_t> (start + i)] += i % 2 == 0 ? 0.5f : -0.5f;
            const auto onsets = found ({ samples, static_cast<double> (rate) });
            INFO (rate << (noise ? " with noise" : " in digital silence"));
            REQUIRE (onsets.size() == starts.size());
            double bias = 0;
            for (std::size_t i = 0; i < starts.size(); ++i)
            {
                const double off = onsets[i] - static_cast<double> (starts[i]) / rate;
                bias += off / 3;
                CHECK (std::abs (off) < 0.005); // one hop
            }
            CHECK (std::abs (bias) < 0.002);
        }
}

TEST_CASE ("Of a swell its start is given, not its peak")
{
    // CASES B22: what a detector gives for a 200 ms swell has to be stated. Ours gives where it begins to be heard.
    std::vector<float> samples (5 * 48000, 0.0f);
    for (std::size_t i = 0; i < 48000; ++i)
    {
        const double seconds = static_cast<double> (i) / 48000;
        const double fade = std::min (1.0, (1.0 - seconds) / 0.3);
        samples[96000 + i] =
            static_cast<float> (0.5 * std::min (1.0, seconds / 0.2) * fade * std::sin (2 * std::numbers::pi * 440 * seconds));
    }
    const Signal signal{ samples, 48000 };
    const auto onsets = sharpOnsets (signal, fluxOf (signal, FluxLook::sharp()));
    REQUIRE (! onsets.empty());
    std::printf ("swell from 2.000 to 2.200 s: onset at %.3f s\n", onsets.front().seconds);
    CHECK (onsets.front().seconds > 1.99);
    CHECK (onsets.front().seconds < 2.05);
}

TEST_CASE ("Silence, a steady tone and the shortest sounds have no onset and do no harm")
{
    CHECK (found ({ {}, 48000 }).empty());
    const std::vector<float> one (1, 0.5f), silent (48000, 0.0f);
    CHECK (found ({ one, 48000 }).size() <= 1);
    CHECK (found ({ silent, 48000 }).empty());
    CHECK (slowOnsets ({ silent, 48000 }, fluxOf ({ silent, 48000 }, FluxLook::slow())).empty());
    const std::vector<float> bad (48000, std::nanf (""));
    CHECK (found ({ bad, 48000 }).size() < 10);
}
