#include "Catch.h"

#include "media/SoundPeaks.h"
#include "media/SoundReader.h"

#include <cmath>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <unistd.h>

using namespace shutterbeat;
namespace fs = std::filesystem;

namespace
{
/// Small sounds made once for all cases.
class Sounds
{
public:
    static Sounds& get()
    {
        static Sounds all;
        return all;
    }
    [[nodiscard]] std::string operator/ (const std::string& name) const { return (folder / name).string(); }
    /// Samples as ffmpeg decodes them from the beginning, interleaved.
    [[nodiscard]] std::vector<float> linear (const std::string& file) const
    {
        const auto raw = (folder / "linear.raw").string();
        run ("ffmpeg -v error -y -i '" + file + "' -map 0:a:0 -f f32le '" + raw + "'");
        std::ifstream in (raw, std::ios::binary);
        std::string bytes{ std::istreambuf_iterator<char> (in), {} };
        std::vector<float> samples (bytes.size() / sizeof (float));
        std::memcpy (samples.data(), bytes.data(), samples.size() * sizeof (float));
        return samples;
    }
    static void run (const std::string& command)
    {
        INFO (command);
        REQUIRE (std::system (command.c_str()) == 0);
    }

private:
    Sounds()
    {
        std::string name = (fs::temp_directory_path() / "shutterbeat-sounds-XXXXXX").string();
        folder = ::mkdtemp (name.data());
        const std::string in =
            " -f lavfi -i \"aevalsrc='0.4*sin(2*PI*(200+40*t)*t)+0.05*(random(0)-0.5)|0.3*sin(2*PI*331*t)':s=44100:d=10\" ";
        const auto make = [&] (const std::string& file, const std::string& how)
        { run ("cd '" + folder.string() + "' && ffmpeg -v error -y" + (file == "t.wav" ? in : " -i t.wav ") + how + " " + file); };
        make ("t.wav", "-c:a pcm_s24le");
        make ("t16.wav", "-c:a pcm_s16le -write_bext 1 -metadata time_reference=158760000 -metadata description=Strings");
        make ("rf.wav", "-c:a pcm_f32le -rf64 always");
        make ("t8.wav", "-c:a pcm_u8");
        make ("t.aiff", "-c:a pcm_s16be");
        make ("t.w64", "-c:a pcm_s32le");
        make ("t.flac", "");
        make ("t.mp3", "-b:a 128k");
        make ("t.m4a", "-b:a 128k");
        make ("t.opus", "-ar 48000");
        make ("t.ogg", "-c:a libvorbis");
        make ("t.aac", "-b:a 128k");
        make ("t.mka", "-c:a flac");
        make ("t.ac3", "-b:a 192k");
    }
    ~Sounds()
    {
        std::error_code ignored;
        fs::remove_all (folder, ignored);
    }
    fs::path folder;
};

std::vector<float> readAll (media::SoundReader& reader, std::int64_t block)
{
    const auto channels = reader.info().channels;
    std::vector<float> all;
    std::vector<float> part (static_cast<std::size_t> (block * channels));
    for (std::int64_t at = 0; at < reader.info().samples; at += block)
    {
        REQUIRE (reader.read (at, part).ok());
        const auto count = std::min (block, reader.info().samples - at) * channels;
        all.insert (all.end(), part.begin(), part.begin() + count);
    }
    return all;
}

double worstDifference (const std::vector<float>& a, const std::vector<float>& b, std::size_t count)
{
    double worst = 0;
    for (std::size_t i = 0; i < count; ++i)
        worst = std::max (worst, std::abs (double (a[i]) - double (b[i])));
    return worst;
}

double meanDifference (const std::vector<float>& a, const std::vector<float>& b, std::size_t count)
{
    double sum = 0;
    for (std::size_t i = 0; i < count; ++i)
        sum += (double (a[i]) - double (b[i])) * (double (a[i]) - double (b[i]));
    return std::sqrt (sum / static_cast<double> (count));
}
} // namespace

TEST_CASE ("sounds of every kind have their exact length, priming and padding left out")
{
    for (const std::string name :
         { "t.wav", "t16.wav", "rf.wav", "t8.wav", "t.aiff", "t.w64", "t.flac", "t.mp3", "t.m4a", "t.ogg", "t.mka" })
    {
        INFO (name);
        const auto info = media::openSound (Sounds::get() / name);
        REQUIRE (info.ok());
        CHECK (info->rate == 44100);
        CHECK (info->channels == 2);
        CHECK (info->samples == 441000);
        CHECK (info->warnings.empty());
        CHECK_FALSE (info->ofFilm);
    }
    CHECK (media::openSound (Sounds::get() / "t.opus")->samples == 480000);
    // Raw AAC does not say what its encoder put in front: that is said.
    CHECK (media::openSound (Sounds::get() / "t.aac")->warnings.size() == 1);
}

TEST_CASE ("the time reference of a WAV's bext chunk is read, RF64 or not")
{
    const auto info = media::openSound (Sounds::get() / "t16.wav");
    REQUIRE (info.ok());
    CHECK (info->timeReference == 158'760'000); // 01:00:00 at 44.1 kHz
    CHECK (info->description == "Strings");
    CHECK_FALSE (media::openSound (Sounds::get() / "t.wav")->timeReference.has_value());
}

TEST_CASE ("any sample of any sound is what decoding from the start gives, in any order")
{
    struct Row
    {
        const char* name;
        double tolerance;   ///< 0: bit for bit
        bool noise = false; ///< its decoder adds noise of its own: root mean square instead of the worst
    };
    // AAC and AC-3 fill with noise, which a decoder begun elsewhere draws anew: as loud, but other noise.
    for (const auto& row : { Row{ "t.wav", 0 }, Row{ "rf.wav", 0 }, Row{ "t8.wav", 0 }, Row{ "t.aiff", 0 }, Row{ "t.w64", 0 },
                             Row{ "t.flac", 0 }, Row{ "t.mka", 0 }, Row{ "t.mp3", 1e-6 }, Row{ "t.ogg", 1e-6 },
                             Row{ "t.opus", 1e-4 }, Row{ "t.ac3", 0.01, true }, Row{ "t.m4a", 0.01, true } })
    {
        INFO (row.name);
        const auto file = Sounds::get() / row.name;
        const auto linear = Sounds::get().linear (file);
        auto reader = media::SoundReader::open (file);
        REQUIRE (reader.ok());
        const auto all = readAll (*reader, 30011);
        REQUIRE (linear.size() >= all.size());
        const double worst = row.noise ? meanDifference (all, linear, all.size()) : worstDifference (all, linear, all.size());
        INFO ("worst difference " << worst);
        CHECK (worst <= row.tolerance);
        CHECK (reader->damagedSamples() == 0);
        // In random order, in odd blocks, back and forth: exactly the same again.
        std::uint32_t seed = 7;
        auto fresh = media::SoundReader::open (file);
        for (int i = 0; i < 60; ++i)
        {
            seed = seed * 1664525 + 1013904223;
            const std::int64_t at = static_cast<std::int64_t> (seed >> 8) % reader->info().samples;
            std::vector<float> part (static_cast<std::size_t> (1 + seed % 3000) * 2);
            REQUIRE (fresh->read (at, part).ok());
            const auto from = static_cast<std::size_t> (at) * 2;
            const auto count = std::min (part.size(), all.size() - from);
            REQUIRE (std::equal (part.begin(), part.begin() + static_cast<std::ptrdiff_t> (count),
                                 all.begin() + static_cast<std::ptrdiff_t> (from)));
            for (auto k = count; k < part.size(); ++k)
                REQUIRE (part[k] == 0.0f);
        }
    }
}

TEST_CASE ("before a sound and after it there is silence")
{
    for (const std::string name : { "t.wav", "t.mp3", "t.m4a" })
    {
        auto reader = media::SoundReader::open (Sounds::get() / name);
        std::vector<float> part (200);
        REQUIRE (reader->read (-100, part).ok());
        CHECK (std::all_of (part.begin(), part.end(), [] (float x) { return x == 0; }));
        REQUIRE (reader->read (-50, part).ok());
        CHECK (std::all_of (part.begin(), part.begin() + 100, [] (float x) { return x == 0; }));
        CHECK (std::any_of (part.begin() + 100, part.end(), [] (float x) { return x != 0; }));
        REQUIRE (reader->read (441000, part).ok());
        CHECK (std::all_of (part.begin(), part.end(), [] (float x) { return x == 0; }));
        REQUIRE (reader->read (std::int64_t (1) << 50, part).ok());
    }
}

TEST_CASE ("the sound of a film counts from its first picture")
{
    const auto film = Sounds::get() / "film.mp4";
    // Picture from 0, sound a tenth of a second late: silence comes first.
    Sounds::run ("ffmpeg -v error -y -f lavfi -i testsrc=size=64x48:rate=25:duration=3 -itsoffset 0.1 -f lavfi -i "
                 "\"sine=frequency=440:sample_rate=48000:duration=2\" -c:v libx264 -c:a alac '"
                 + film + "'");
    auto reader = media::SoundReader::open (film);
    REQUIRE (reader.ok());
    CHECK (reader->info().ofFilm);
    CHECK (reader->info().rate == 48000);
    CHECK (reader->info().samples == 4800 + 96000);
    std::vector<float> part (static_cast<std::size_t> (10000 * reader->info().channels));
    REQUIRE (reader->read (0, part).ok());
    const auto first = std::find_if (part.begin(), part.end(), [] (float x) { return x != 0; });
    CHECK (std::abs (first - part.begin() - 4800) <= 2);
    // Cut so that the container shows the film from later on: sample 0 goes with picture 0.
    const auto cut = Sounds::get() / "cut.mkv";
    Sounds::run ("ffmpeg -v error -y -i '" + film + "' -output_ts_offset 10 -c:v copy -c:a pcm_s16le '" + cut + "'");
    auto later = media::SoundReader::open (cut);
    REQUIRE (later.ok());
    REQUIRE (later->read (0, part).ok());
    const auto begins = std::find_if (part.begin(), part.end(), [] (float x) { return x != 0; });
    CHECK (std::abs (begins - part.begin() - 4800) <= 48); // Matroska counts in milliseconds
}

TEST_CASE ("what is no sound is refused with its name and what to do")
{
    const auto refused = [] (const std::string& path, const std::string& why)
    {
        const auto opened = media::openSound (path);
        REQUIRE_FALSE (opened.ok());
        CHECK (opened.error().code == ErrorCode::unreadable);
        CHECK (opened.error().where == path);
        INFO (opened.error().text());
        CHECK (opened.error().message.find (why) != std::string::npos);
    };
    auto& sounds = Sounds::get();
    refused (sounds / "nowhere.wav", "can't be read");
    refused (sounds / "", "folder");
    std::ofstream (sounds / "empty.wav").flush();
    refused (sounds / "empty.wav", "empty");
    std::ofstream (sounds / "words.wav") << "these are words, not sound, and they go on for a little while";
    refused (sounds / "words.wav", "convert it to WAV");
    Sounds::run ("ffmpeg -v error -y -f lavfi -i testsrc=size=64x48:rate=25:duration=1 '" + (sounds / "mute.mp4") + "'");
    refused (sounds / "mute.mp4", "no sound track");
}

TEST_CASE ("a WAV that was cut off plays as far as it goes, and says so")
{
    auto& sounds = Sounds::get();
    const auto cut = sounds / "short.wav";
    fs::copy_file (sounds / "t16.wav", cut, fs::copy_options::overwrite_existing);
    fs::resize_file (cut, fs::file_size (cut) / 2);
    auto reader = media::SoundReader::open (cut);
    REQUIRE (reader.ok());
    CHECK (reader->info().samples < 230000);
    CHECK (reader->info().samples > 210000);
    REQUIRE (reader->info().warnings.size() == 1);
    CHECK (reader->info().warnings[0].find ("441000") != std::string::npos);
    std::vector<float> part (2000);
    CHECK (reader->read (reader->info().samples - 500, part).ok());
}

TEST_CASE ("damage inside a sound is silence in its place, never a shift")
{
    auto& sounds = Sounds::get();
    const auto hurt = sounds / "hurt.mp3";
    std::ifstream in (sounds / "t.mp3", std::ios::binary);
    std::string bytes{ std::istreambuf_iterator<char> (in), {} };
    for (std::size_t i = bytes.size() / 2; i < bytes.size() / 2 + 3000; ++i)
        bytes[i] = 'x';
    std::ofstream (hurt, std::ios::binary) << bytes;
    auto good = media::SoundReader::open (sounds / "t.mp3");
    auto bad = media::SoundReader::open (hurt);
    REQUIRE (bad.ok());
    std::vector<float> a (20000), b (20000);
    for (const std::int64_t at : { 0, 100000 })
    {
        REQUIRE (good->read (at, a).ok());
        REQUIRE (bad->read (at, b).ok());
        CHECK (worstDifference (a, b, a.size()) < 1e-6);
    }
}

TEST_CASE ("the outline of a sound holds its highest and lowest samples at every zoom")
{
    auto reader = media::SoundReader::open (Sounds::get() / "t.wav");
    const auto peaks = media::makePeaks (*reader);
    REQUIRE (peaks.ok());
    CHECK (peaks->samples() == 441000);
    CHECK (peaks->zooms() >= 3);
    const auto all = readAll (*reader, 65536);
    const auto plain = [&] (std::int64_t first, std::int64_t end)
    {
        float low = 1, high = -1;
        for (auto i = 2 * first; i < 2 * end; ++i)
        {
            low = std::min (low, all[static_cast<std::size_t> (i)]);
            high = std::max (high, all[static_cast<std::size_t> (i)]);
        }
        return media::Peak{ static_cast<std::int16_t> (std::lround (low * 32767)),
                            static_cast<std::int16_t> (std::lround (high * 32767)) };
    };
    CHECK (peaks->outline (0, 441000, 1)[0] == plain (0, 441000));
    for (const std::size_t columns : { 7u, 100u, 1000u })
    {
        const std::int64_t first = 256 * 13, end = first + static_cast<std::int64_t> (columns) * 256;
        const auto drawn = peaks->outline (first, end, columns);
        for (std::size_t c = 0; c < columns; ++c)
        {
            const auto from = first + static_cast<std::int64_t> (c) * 256;
            REQUIRE (drawn[c] == plain (from, from + 256));
        }
    }
    const auto wide = peaks->outline (-441000, 882000, 30);
    CHECK (wide[0] == media::Peak{});
    CHECK (wide[29] == media::Peak{});
    CHECK (wide[15].high > 10000);
    const auto stopped = media::makePeaks (*reader, [] (double done) { return done < 0.5; });
    REQUIRE_FALSE (stopped.ok());
    CHECK (stopped.error().code == ErrorCode::cancelled);
}
