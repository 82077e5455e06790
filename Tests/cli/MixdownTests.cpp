#include "Bench.h"

#include "exchange/WavFile.h"
#include "exchange/WavRead.h"

#include <cmath>
#include <cstdio>
#include <numbers>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
/// A book on a film of 300 film frames at 18, final 24 (400 delivered frames), picture start 01:00:00:00, with two cues.
std::string mixdownBook (const Folder& folder)
{
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 300);
    must ({ "new", book, film, "--running", "18", "--final", "24", "--start", "01:00:00:00" });
    must ({ "cues", book, "add", "--number", "1M1", "--title", "Waltz", "--in", "film:9", "--out", "film:150" });
    must ({ "cues", book, "add", "--number", "1M2", "--in", "film:150", "--out", "end" });
    return book;
}

void writeMono (const std::string& path, const std::vector<float>& samples, int rate = 48000)
{
    exchange::WavLook look;
    look.samplesPerSecond = rate;
    auto bytes = exchange::wavHead (look, static_cast<std::int64_t> (samples.size()));
    exchange::appendSamples (bytes, samples);
    exchange::endWav (bytes);
    writeFile (path, bytes);
}

/// A sound that is 1/2 at some samples and nothing else.
std::vector<float> strokesAt (std::size_t length, const std::vector<std::size_t>& places)
{
    std::vector<float> samples (length);
    for (const auto at : places)
        samples[at] = 0.5f;
    return samples;
}

struct Wave
{
    exchange::WavInfo info;
    std::vector<float> left;
};

/// Our own mixdowns: 24 bits, two channels, samples last.
Wave readWave (const std::string& path)
{
    const auto bytes = readFile (path);
    const auto info = exchange::readWavInfo (bytes);
    REQUIRE (info);
    REQUIRE (info->channels == 2);
    REQUIRE (info->bits == 24);
    Wave wave{ *info, {} };
    const auto* data =
        reinterpret_cast<const unsigned char*> (bytes.data()) + bytes.size() - static_cast<std::size_t> (6 * info->samples);
    for (std::int64_t s = 0; s < info->samples; ++s, data += 6)
    {
        const auto raw =
            static_cast<std::int32_t> (static_cast<std::uint32_t> (data[0]) << 8 | static_cast<std::uint32_t> (data[1]) << 16
                                       | static_cast<std::uint32_t> (data[2]) << 24);
        wave.left.push_back (static_cast<float> (raw / 2147483648.0));
    }
    return wave;
}

std::int64_t loudestOf (const std::vector<float>& samples, std::int64_t from, std::int64_t to)
{
    auto best = from;
    for (auto s = from; s < to; ++s)
        if (std::abs (samples[static_cast<std::size_t> (s)]) > std::abs (samples[static_cast<std::size_t> (best)]))
            best = s;
    return best;
}

/// The pitch of a steady tone, by its rising zero crossings.
double hertzOf (const std::vector<float>& samples, std::size_t from, std::size_t to, double rate = 48000)
{
    double first = -1, last = 0;
    int count = 0;
    for (auto s = from + 1; s < to; ++s)
        if (samples[s - 1] < 0 && samples[s] >= 0)
        {
            last = static_cast<double> (s) - samples[s] / (samples[s] - samples[s - 1]);
            if (first < 0)
                first = last;
            else
                ++count;
        }
    return count * rate / (last - first);
}

std::vector<float> tone (double hertz, double seconds)
{
    std::vector<float> samples (static_cast<std::size_t> (seconds * 48000));
    for (std::size_t s = 0; s < samples.size(); ++s)
        samples[s] = 0.2f * static_cast<float> (std::sin (2 * std::numbers::pi * hertz * static_cast<double> (s) / 48000));
    return samples;
}

nlohmann::json mixed (std::vector<std::string> words)
{
    words.insert (words.begin(), "mixdown");
    words.push_back ("--json");
    return must (words).json()["mixdowns"];
}
} // namespace

TEST_CASE ("A mixdown is as long as the picture to the sample at every rate, and sounds lie on their samples")
{
    Folder folder;
    const auto book = mixdownBook (folder), sound = folder / "take.wav", out = folder / "mix.wav";
    writeMono (sound, strokesAt (48000, { 100, 40000 }));
    must ({ "sounds", book, "add", sound, "--at", "film:90" });
    // 300 film frames at 18: 400 frames at 24, and as many at 24000/1001 frame for frame; 417 at 25 true (416 2/3).
    const std::vector<std::tuple<std::string, std::string, std::int64_t>> lengths{ { "24", "true", 800000 },
                                                                                   { "23.976", "true", 800800 },
                                                                                   { "25", "true", 800640 },
                                                                                   { "30", "true", 800000 },
                                                                                   { "50", "true", 800640 } };
    for (const auto& [rate, fill, samples] : lengths)
    {
        INFO (rate << " " << fill);
        const auto made = mixed ({ book, "-o", out, "--final", rate, "--fill", fill })[0];
        const auto times = must ({ "times", book, "--json", "--final", rate, "--fill", fill }).json();
        const auto wave = readWave (out);
        CHECK (made["samples"] == samples);
        CHECK (wave.info.samples == samples);
        CHECK (made["picture_samples"] == samples);
        // Five seconds at 18 are film frame 90; the sound's own strokes follow to the sample.
        const auto at = loudestOf (wave.left, 200000, 260000);
        CHECK (at == 240000 + 100);
        CHECK (wave.left[static_cast<std::size_t> (at + 39900)] == wave.left[static_cast<std::size_t> (at)]);
        CHECK (times["reels"][0]["start_timecode"] == made["start_timecode"]);
        REQUIRE (wave.info.cues.size() == 2);
        CHECK (wave.info.cues[0].label == "1M1 Waltz");
        // 01:00:00:00 is 3600 s after midnight, at 23.976 3603.6 s (handbook 7.4).
        CHECK (*wave.info.timeReference == (rate == "23.976" ? 172972800 : 172800000));
    }
}

TEST_CASE ("Leader and pops of a mixdown lie where WORKED F and G say, and the loudness is that of the picture")
{
    Folder folder;
    const auto book = mixdownBook (folder), sound = folder / "take.wav", out = folder / "mix.wav";
    writeMono (sound, tone (997, 16));
    must ({ "sounds", book, "add", sound, "--at", "film:0" });
    const auto plain = mixed ({ book, "-o", out })[0];
    const auto made = mixed ({ book, "-o", out, "--leader", "10", "--pop" })[0];
    CHECK (made["start_timecode"] == "00:59:50:00");
    CHECK (made["picture_sample"] == 480000);
    CHECK (made["picture_samples"] == 800000);
    CHECK (made["loudness"] == plain["loudness"]);
    const auto wave = readWave (out);
    CHECK (*wave.info.timeReference == 172800000 - 480000);
    // 48 frames before picture start, one frame long; two seconds after its end, and a second of silence.
    const auto loud = [&] (std::int64_t from, std::int64_t to)
    { return std::abs (wave.left[static_cast<std::size_t> (loudestOf (wave.left, from, to))]); };
    CHECK (loud (0, 480000 - 96000) == 0);
    CHECK (loud (384000, 386000) > 0.09);
    CHECK (loud (386000, 480000) == 0);
    CHECK (loud (1280000 + 96000, 1280000 + 98000) > 0.09);
    CHECK (loud (1280000 + 98000, wave.info.samples) == 0);
    CHECK (wave.info.samples == 1280000 + 96000 + 48000);
}

TEST_CASE ("The loudness printed is that of ffmpeg's ebur128")
{
    Folder folder;
    const auto book = mixdownBook (folder), sound = folder / "take.wav", out = folder / "mix.wav", log = folder / "log";
    // Soft and loud stretches, so that the gates have something to do.
    REQUIRE (std::system (("ffmpeg -v error -f lavfi -i \"anoisesrc=d=16:c=pink:r=48000:a=0.4:seed=7\" -af "
                           "\"volume='if(lt(mod(t,4),2),1,0.05)':eval=frame\" -ac 2 -c:a pcm_s24le '"
                           + sound + "'")
                              .c_str())
             == 0);
    must ({ "sounds", book, "add", sound, "--at", "film:0", "--gain", "-3" });
    const auto made = mixed ({ book, "-o", out })[0];
    REQUIRE (std::system (("ffmpeg -nostats -i '" + out + "' -af ebur128=peak=true -f null - 2> '" + log + "'").c_str()) == 0);
    const auto text = readFile (log);
    const auto after = [&] (const std::string& word)
    {
        const auto at = text.rfind (word);
        REQUIRE (at != std::string::npos);
        return std::stod (text.substr (at + word.size()));
    };
    const auto ours = made["loudness"]["integrated_lufs"].get<double>(), peak = made["loudness"]["true_peak_dbtp"].get<double>();
    std::printf ("loudness: ours %.1f LUFS, peak %.1f dBTP; ffmpeg %.1f LUFS, %.1f dBFS\n", ours, peak, after ("I:"),
                 after ("Peak:"));
    CHECK (std::abs (ours - after ("I:")) < 0.15);
    CHECK (std::abs (peak - after ("Peak:")) < 0.35);
    CHECK (made["loudness"]["range_lu"].is_null());
}

TEST_CASE ("A sound made for 24 in a film that now runs 25 frame for frame is re-timed as asked, never unasked")
{
    Folder folder;
    const auto book = mixdownBook (folder), sound = folder / "take.wav", out = folder / "mix.wav";
    auto samples = tone (440, 12);
    must ({ "cues", book, "set", "1M2", "--title", "Gallop" });
    for (std::size_t s = 240000; s < samples.size(); ++s)
        samples[s] = 0; // five seconds of tone, then silence and one stroke
    for (std::size_t s = 0; s < 400; ++s)
        samples[480000 + s] = 0.4f * std::exp (-static_cast<float> (s) / 60) * (s % 8 < 4 ? 1.0f : -1.0f);
    writeMono (sound, samples);
    must ({ "sounds", book, "add", sound, "--at", "film:18" });
    const std::vector<std::string> at25{ "--final", "25", "--fill", "from:24" };
    const auto with = [&] (std::vector<std::string> words)
    {
        words.insert (words.begin(), { book, "-o", out });
        words.insert (words.end(), at25.begin(), at25.end());
        return words;
    };
    auto words = with ({});
    words.insert (words.begin(), "mixdown");
    const auto refused = run (words);
    CHECK (refused.status == 2);
    CHECK (refused.err.find ("24/25") != std::string::npos);
    CHECK (refused.err.find ("0.71 semitones higher") != std::string::npos);
    CHECK (! fs::exists (out));

    // 400 frames at 25 are 16 s. The sound starts at delivered frame 24: 0.96 s. Its stroke, 10 s into it, comes 9.6 s later.
    const std::int64_t start = 46080, stroke = start + 460800;
    const auto resampled = mixed (with ({ "--retime", "resample" }))[0];
    CHECK (resampled["samples"] == 768000);
    CHECK (resampled["sounds"][0]["retimed_by"] == "24/25");
    const auto fast = readWave (out);
    CHECK (std::abs (loudestOf (fast.left, 300000, 768000) - stroke)
           <= 12); // a stroke of 6 kHz: its first turns are nearly as loud
    CHECK (std::abs (hertzOf (fast.left, 60000, 200000) - 440 * 25.0 / 24) < 0.05);

    const auto stretched = mixed (with ({ "--retime", "stretch" }))[0];
    CHECK (stretched["samples"] == 768000);
    const auto same = readWave (out);
    const auto found = loudestOf (same.left, 300000, 768000);
    std::printf ("stretching: the stroke lies %.2f ms from its place, the tone is %.2f Hz\n",
                 static_cast<double> (found - stroke) / 48, hertzOf (same.left, 60000, 200000));
    CHECK (std::abs (found - stroke) <= 480);
    CHECK (std::abs (hertzOf (same.left, 60000, 200000) - 440) < 0.5);

    mixed (with ({ "--retime", "none" }));
    CHECK (loudestOf (readWave (out).left, 300000, 768000) == 48000 + 480000); // a second into the film, as it was placed
}

TEST_CASE ("A mixdown never leaves a sound out unsaid, and says when it was too loud")
{
    Folder folder;
    const auto book = mixdownBook (folder), sound = folder / "take.wav", other = folder / "other.wav", out = folder / "mix.wav";
    CHECK (run ({ "mixdown", book, "-o", out }).status == 2);
    writeMono (sound, tone (440, 2));
    writeMono (other, tone (660, 2));
    must ({ "sounds", book, "add", sound, "--at", "film:0", "--gain", "20" });
    must ({ "sounds", book, "add", other, "--at", "film:0" });
    const auto loud = run ({ "mixdown", book, "-o", out, "--json" });
    CHECK (loud.status == 1);
    CHECK (loud.json()["mixdowns"][0]["clipped"] > 0);
    CHECK (loud.err.find ("clipped") != std::string::npos);
    const auto chosen = mixed ({ book, "-o", out, "--sound", "other.wav" })[0];
    CHECK (chosen["sounds"].size() == 1);
    fs::remove (other);
    fs::remove (out);
    const auto missing = run ({ "mixdown", book, "-o", out });
    CHECK (missing.status == 3);
    CHECK (missing.err.find ("other.wav") != std::string::npos);
    CHECK (! fs::exists (out));
    CHECK (! fs::exists (out + ".part"));
}
