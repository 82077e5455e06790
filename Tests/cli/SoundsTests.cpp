#include "Bench.h"

#include "desk/FilmSound.h"
#include "desk/Sounds.h"
#include "mix/LinearTimecode.h"

#include <cmath>
#include <cstring>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
/// A book on a film of 300 film frames at 18, final 24, picture start 01:00:00:00, with two cues.
std::string soundsBook (const Folder& folder)
{
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 300);
    must ({ "new", book, film, "--running", "18", "--final", "24", "--start", "01:00:00:00" });
    must ({ "cues", book, "add", "--number", "1M1", "--in", "film:9", "--out", "film:150" });
    must ({ "cues", book, "add", "--number", "1M2", "--in", "film:150", "--out", "end" });
    return book;
}

void put32 (std::string& bytes, std::uint32_t value)
{
    for (int i = 0; i < 4; ++i)
        bytes += static_cast<char> (value >> (8 * i) & 255);
}

/// A 32-bit float WAV of one or two channels, with a bext time reference if one is given.
void writeWav (const std::string& path, const std::vector<float>& samples, int rate, int channels = 1,
               std::optional<std::uint64_t> reference = {})
{
    std::string chunks;
    if (reference)
    {
        std::string bext (602, '\0');
        std::memcpy (bext.data(), "Strings", 7);
        for (std::size_t i = 0; i < 8; ++i)
            bext[338 + i] = static_cast<char> (*reference >> (8 * i) & 255);
        chunks += "bext";
        put32 (chunks, 602);
        chunks += bext;
    }
    chunks += "fmt ";
    put32 (chunks, 16);
    chunks += std::string ("\x03\x00", 2) + static_cast<char> (channels) + '\0';
    put32 (chunks, static_cast<std::uint32_t> (rate));
    put32 (chunks, static_cast<std::uint32_t> (rate * channels * 4));
    chunks += static_cast<char> (channels * 4);
    chunks += std::string ("\0\x20\0", 3);
    chunks += "data";
    put32 (chunks, static_cast<std::uint32_t> (samples.size() * 4));
    chunks.append (reinterpret_cast<const char*> (samples.data()), samples.size() * 4);
    std::string riff = "RIFF";
    put32 (riff, static_cast<std::uint32_t> (chunks.size() + 4));
    writeFile (path, riff + "WAVE" + chunks);
}

/// A sound that is 1/4 at its sample `at` and nothing else.
std::vector<float> strokeAt (std::size_t length, std::size_t at)
{
    std::vector<float> samples (length);
    samples[at] = 0.25f;
    return samples;
}

nlohmann::json listed (const std::string& book, const std::vector<std::string>& more = {})
{
    std::vector<std::string> words{ "sounds", book, "list", "--json" };
    words.insert (words.end(), more.begin(), more.end());
    return must (words).json();
}
} // namespace

TEST_CASE ("sounds are placed by their time stamp, by the cue in their name, or by hand, and it is kept which")
{
    Folder folder;
    const auto book = soundsBook (folder);
    // One second and one sample after 01:00:00:00.
    writeWav (folder / "take 3.wav", strokeAt (48000, 0), 48000, 1, 172'800'000 + 48'001);
    writeWav (folder / "1m2 strings.wav", strokeAt (48000, 0), 48000);
    writeWav (folder / "hand.wav", strokeAt (44100, 0), 44100);
    must ({ "sounds", book, "add", folder / "take 3.wav", "--kind", "take" });
    must ({ "sounds", book, "add", folder / "1m2 strings.wav", "--kind", "stem", "--gain", "-4.5" });
    must ({ "sounds", book, "add", folder / "hand.wav", "--at=-1/2s", "--mute", "--note", "overture" });
    const auto list = listed (book);
    REQUIRE (list.size() == 3);
    CHECK (list[0]["placed_by"] == "WAV time stamp");
    CHECK (list[0]["start_exact"] == "48001/48000");
    CHECK (list[0]["start_sample"] == 48001);
    CHECK (list[0]["timecode"] == "01:00:01:00");
    CHECK (list[0]["kind"] == "take");
    CHECK (list[1]["placed_by"] == "name");
    CHECK (list[1]["from_cue"] == list[1]["cue"]);
    CHECK (list[1]["start_exact"] == "25/3"); // film frame 150 at 18 is delivered frame 200 at 24
    CHECK (list[1]["gain_db"] == "-9/2");
    CHECK (list[2]["placed_by"] == "by hand");
    CHECK (list[2]["start_exact"] == "-1/2");
    CHECK (list[2]["timecode"] == "00:59:59:12");
    CHECK (list[2]["muted"] == true);
    CHECK (list[2]["rate"] == 44100);
    for (const auto& sound : list)
    {
        CHECK (sound["made_for"] == "edition A at 24, true");
        CHECK (sound["made_for_other"] == false);
    }
    // At another delivery a cue's sound goes with its cue, and all say what they were made for.
    const auto at25 = listed (book, { "--final", "25", "--fill", "from:24" });
    CHECK (at25[1]["start_exact"] == "8");
    CHECK (at25[0]["made_for_other"] == true);
    const auto text = must ({ "sounds", book, "list", "--final", "25" }).out;
    CHECK (text.find ("not for this delivery") != std::string::npos);

    must ({ "sounds", book, "set", "hand.wav", "--at", "film:9", "--unmute", "--gain", "3", "--placed", "pop" });
    must ({ "sounds", book, "remove", "me-3" });
    const auto after = listed (book);
    REQUIRE (after.size() == 2);
    CHECK (after[1]["start_exact"] == "1/2"); // film frame 9 is delivered frame 12
    CHECK (after[1]["placed_by"] == "pop");
    CHECK (after[1]["muted"] == false);
}

TEST_CASE ("a sound that nothing places is refused, with what was tried: the book stays as it was")
{
    Folder folder;
    const auto book = soundsBook (folder);
    const auto before = readFile (book);
    writeWav (folder / "song.wav", strokeAt (100, 0), 48000);
    writeWav (folder / "far.wav", strokeAt (100, 0), 48000, 1, std::uint64_t (36000) * 48000);
    writeWav (folder / "1M1 and 1M2.wav", strokeAt (100, 0), 48000);
    writeFile (folder / "words.wav", "no sound at all");
    const auto refused = [&] (const std::vector<std::string>& more, int status, const std::string& says)
    {
        std::vector<std::string> words{ "sounds", book, "add" };
        words.insert (words.end(), more.begin(), more.end());
        const auto ran = run (words);
        INFO (ran.err);
        CHECK (ran.status == status);
        CHECK (ran.err.find (says) != std::string::npos);
        CHECK (readFile (book) == before);
    };
    refused ({ folder / "song.wav" }, 2, "--at PLACE");
    refused ({ folder / "far.wav" }, 2, "10:00:00.000");
    refused ({ folder / "1M1 and 1M2.wav" }, 2, "its name says no cue");
    refused ({ folder / "words.wav", "--at", "0s" }, 3, "words.wav");
    refused ({ folder / "nowhere.wav", "--at", "0s" }, 3, "nowhere.wav");
    refused ({ folder / "song.wav", "--at", "film:9999" }, 2, "9999");
    refused ({ folder / "song.wav", "--cue", "9M9" }, 2, "9M9");
    refused ({ folder / "song.wav", "--at", "0s", "--gain", "99" }, 2, "decibels");
    refused ({ folder / "song.wav", "--ltc", "1" }, 2, "no linear timecode");
    refused ({ folder / "song.wav", "--ltc", "2" }, 2, "channel 2");
    refused ({ folder / "song.wav", "--at", "0s", "--kind", "song" }, 2, "mock-up");
}

TEST_CASE ("a sound with linear timecode on a channel is placed by it, to the sample or near it")
{
    Folder folder;
    const auto book = soundsBook (folder);
    // Five seconds of music and code, begun 1234 samples after the picture's second 2.
    const auto code = mix::LinearTimecode::of ({ 24, false }, 86400);
    const std::int64_t begin = 2 * 48000 + 1234;
    std::vector<float> left (5 * 48000), right (left.size()), both;
    code->render (48000, begin, right);
    for (std::size_t i = 0; i < left.size(); ++i)
    {
        both.push_back (left[i]);
        both.push_back (right[i]);
    }
    writeWav (folder / "with code.wav", both, 48000, 2);
    const auto ran = must ({ "sounds", book, "add", folder / "with code.wav", "--ltc", "2" });
    CHECK (ran.err.find ("linear timecode on channel 2 says 01:00:0") != std::string::npos);
    const auto list = listed (book);
    CHECK (list[0]["placed_by"] == "LTC");
    CHECK (std::llabs (list[0]["start_sample"].get<std::int64_t>() - begin) <= 12);
}

TEST_CASE ("the delivered film's sound is the book's sounds in their places, clicks and pops with them")
{
    Folder folder;
    const auto book = soundsBook (folder);
    writeWav (folder / "a.wav", strokeAt (1000, 10), 48000);
    writeWav (folder / "b.wav", strokeAt (1000, 0), 48000);
    must ({ "sounds", book, "add", folder / "a.wav", "--at", "100000@48000" });
    must ({ "sounds", book, "add", folder / "b.wav", "--cue", "1M2", "--from", "-1@48000", "--gain", "-6" });
    const auto open = desk::openBook (book);
    const auto times = spotting::timesOf (open->book);
    desk::FilmSoundWish wish;
    wish.clicks = { { Rational (3), mix::ClickKind::accent } };
    wish.pops = true;
    const auto sound = desk::FilmSound::of (*open, *times, wish);
    REQUIRE (sound.ok());
    CHECK (sound->notes().empty());
    REQUIRE (sound->sounds().size() == 2);
    const auto render = sound->render();
    const auto at = [&] (std::int64_t sample)
    {
        std::vector<float> one (2);
        CHECK (render (sample, one));
        return one[0];
    };
    CHECK (at (100010) == 0.25f);
    CHECK (at (100009) == 0.0f);
    CHECK (at (399999) == Approx (0.25 * std::pow (10.0, -0.3))); // delivered frame 200, less a sample
    CHECK (at (144000) == Approx (0.1));
    // Pops: 48 frames before picture start, and 48 frames less one after the last.
    std::vector<float> pop (2 * 3000);
    CHECK (render (-96000, pop));
    CHECK (*std::max_element (pop.begin(), pop.begin() + 4000) == Approx (0.1).epsilon (0.01));
    CHECK (*std::max_element (pop.begin() + 4000, pop.end()) == 0.0f); // one frame: 2000 samples
    const auto length = times->timings.deliveredLength();
    CHECK (render ((length + 47) * 2000, pop));
    CHECK (*std::max_element (pop.begin(), pop.end()) > 0.09f);

    // A file that has gone is named, and the others are heard.
    fs::remove (folder / "a.wav");
    const auto without = desk::FilmSound::of (*open, *times);
    REQUIRE (without.ok());
    REQUIRE (without->notes().size() == 1);
    CHECK (without->notes()[0].find ("a.wav") != std::string::npos);
    CHECK_FALSE (without->sounds()[0].lost.empty());
    CHECK (without->plan().sounds.size() == 1);
    CHECK (listed (book)[0].contains ("missing"));
    CHECK (must ({ "sounds", book }).out.find ("a.wav: ") != std::string::npos);
}

TEST_CASE ("the cue in a file's name is found as a word, and never between two")
{
    spotting::Book book;
    spotting::Cue one, two;
    one.id = "a-1";
    one.number = "1M1";
    two.id = "a-2";
    two.number = "1M12";
    book.cues = std::vector<spotting::Cue>{ one, two };
    const auto named = [&] (const std::string& file)
    {
        const auto* cue = desk::cueInName (book, file);
        return cue != nullptr ? cue->number : "";
    };
    CHECK (named ("1M1.wav") == "1M1");
    CHECK (named ("1m12_strings v2.wav") == "1M12");
    CHECK (named ("Kite-1M1-mix.wav") == "1M1");
    CHECK (named ("21M1.wav").empty());
    CHECK (named ("1M123.wav").empty());
    CHECK (named ("1M1 to 1M12.wav").empty());
    CHECK (named ("song.wav").empty());
}
