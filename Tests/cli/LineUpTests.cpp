#include "Bench.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <numbers>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using Json = nlohmann::json;

namespace
{
constexpr int takeRate = 48000;

/// A stroke as a woodblock gives it, at a moment in seconds.
void strike (std::vector<float>& samples, double seconds, double hertz = 880)
{
    const auto first = static_cast<std::size_t> (std::lround (seconds * takeRate));
    for (std::size_t i = 0; i < takeRate / 4 && first + i < samples.size(); ++i)
    {
        const double at = static_cast<double> (i) / takeRate;
        samples[first + i] += static_cast<float> (0.4 * std::exp (-at * 30) * std::sin (2 * std::numbers::pi * hertz * at + 1));
    }
}

void tone (std::vector<float>& samples, double seconds, double length)
{
    const auto first = static_cast<std::size_t> (std::lround (seconds * takeRate));
    for (std::size_t i = 0; i < static_cast<std::size_t> (length * takeRate); ++i)
        samples[first + i] +=
            static_cast<float> (0.1 * std::sin (2 * std::numbers::pi * 1000 * static_cast<double> (i) / takeRate));
}

void writeWav (const std::string& path, const std::vector<float>& samples)
{
    std::string bytes = "RIFF";
    const auto put = [&bytes] (std::uint32_t value, int count)
    {
        for (int i = 0; i < count; ++i)
            bytes += static_cast<char> (value >> (8 * i) & 255);
    };
    const auto size = static_cast<std::uint32_t> (samples.size() * 4);
    put (size + 36, 4);
    bytes += "WAVEfmt ";
    put (16, 4);
    put (3, 2);
    put (1, 2);
    put (takeRate, 4);
    put (takeRate * 4, 4);
    put (4, 2);
    put (32, 2);
    bytes += "data";
    put (size, 4);
    bytes.append (reinterpret_cast<const char*> (samples.data()), size);
    writeFile (path, bytes);
}

/// A film of 720 film frames at 18, final 24: forty seconds. Cue 1M1 covers it from film frame 0, its tempo changes halfway; hits
/// lie on the film frames nearest to some of its beats.
std::string bookOf (const Folder& folder)
{
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 720);
    must ({ "new", book, film, "--running", "18", "--final", "24", "--start", "01:00:00:00" });
    must ({ "cues", book, "add", "--number", "1M1", "--in", "film:0", "--out", "end" });
    must ({ "tempo", book, "1M1", "set", "--tempo", "100", "9:112" });
    return book;
}

/// The beats of that tempo map, seconds from its start: eight bars of 4/4 at 100, then 112.
std::vector<double> beats()
{
    std::vector<double> all;
    for (double at = 0; at < 39.5; at += all.size() <= 32 ? 0.6 : 60.0 / 112)
        all.push_back (at);
    return all;
}

void addHit (const std::string& book, double seconds, const std::string& label)
{
    const auto frame = std::to_string (std::lround (seconds * 18));
    must ({ "hits", book, "add", "--at", "film:" + frame, "--cue", "1M1", "--weight", "must", "--label", label });
}
} // namespace

TEST_CASE ("lineup: late by a constant, every hit with late_ms, a verdict and published limits")
{
    const Folder folder;
    const auto book = bookOf (folder);
    std::vector<float> samples (40 * takeRate, 0.0f);
    for (const double beat : beats())
        strike (samples, beat + 0.100);
    writeWav (folder / "1M1-take.wav", samples);
    must ({ "sounds", book, "add", folder / "1M1-take.wav" });
    addHit (book, 6.0, "the door");  // beat 10: film frame 108, delivered 144, exactly 6 s
    addHit (book, 12.0, "the cake"); // beat 20
    addHit (book, 13.5, "the cat");  // between two beats: nothing is struck there
    const auto ran = run ({ "lineup", book, "1M1", "--json" });
    INFO (ran.err);
    REQUIRE (ran.status == 1);
    const auto told = ran.json()[0];
    CHECK (told["whole"]["kind"] == "late");
    CHECK (told["whole"]["measured"]["late_ms"].get<double>() == Approx (100).margin (2));
    CHECK (told["sentences"][0].get<std::string>().rfind ("Late by a constant 100 ms", 0) == 0);
    const auto& hits = told["hits"];
    REQUIRE (hits.size() == 3);
    CHECK (hits[0]["late_ms"].get<double>() == Approx (100).margin (2));
    CHECK (hits[0]["late_frames"].get<double>() == Approx (2.4).margin (0.05));
    CHECK (hits[0]["verdict"] == "late"); // beyond 80 ms
    // Handbook 5, sound late: within BT.1359's detectability (125 ms), beyond the rest but acceptability.
    const auto breaks = hits[0]["breaks"].get<std::vector<std::string>>();
    CHECK (std::find (breaks.begin(), breaks.end(), "EBU R37, distribution") != breaks.end());
    CHECK (std::find (breaks.begin(), breaks.end(), "ITU-R BT.1359-1, detectability") == breaks.end());
    CHECK (hits[1]["late_ms"].get<double>() == Approx (100).margin (2));
    CHECK (hits[2]["verdict"] == "no clear accent");
    CHECK (hits[2]["late_ms"].is_null());

    // What is known to begin late is taken off; then nothing is the matter.
    const auto fine = run ({ "lineup", book, "1M1", "--bias", "100", "--json" });
    CHECK (fine.json()[0]["whole"]["kind"] == "in time");
    CHECK (fine.json()[0]["hits"][0]["verdict"] == "within");

    const auto table = run ({ "lineup", book, "1M1-take.wav" });
    CHECK (table.out.find ("100 ms late, 2.4 frames") != std::string::npos);
    CHECK (table.out.find ("no clear accent here") != std::string::npos);
    CHECK (run ({ "lineup", book, "1M9" }).status == 2);
    CHECK (run ({ "lineup", book }).status == 2);

    // The report holds the same numbers.
    must ({ "export", book, "line-up", "-o", folder / "line-up.pdf", "--stamped", "2026-05-01" });
    REQUIRE (std::system (("pdftotext -layout '" + (folder / "line-up.pdf") + "' '" + (folder / "line-up.txt") + "'").c_str())
             == 0);
    const auto text = readFile (folder / "line-up.txt");
    CHECK (text.find ("100 ms late, 2.4 frames") != std::string::npos);
    CHECK (text.find ("Late by a constant 100 ms") != std::string::npos);
    CHECK (text.find ("no clear accent here") != std::string::npos);
}

TEST_CASE ("lineup: made for another rate, and one performance against every delivery")
{
    const Folder folder;
    const auto book = bookOf (folder);
    std::vector<float> samples (44 * takeRate, 0.0f);
    for (const double beat : beats())
        strike (samples, beat * 25 / 24);
    writeWav (folder / "1M1-take.wav", samples);
    must ({ "sounds", book, "add", folder / "1M1-take.wav" });
    addHit (book, 6.0, "the door");
    addHit (book, 12.0, "the cake");
    const auto told = run ({ "lineup", book, "1M1", "--json" }).json()[0];
    CHECK (told["whole"]["kind"] == "rate mistake");
    REQUIRE (told["whole"]["mistakes"].size() == 1);
    CHECK (told["whole"]["mistakes"][0]["ratio"] == "25/24");
    CHECK (told["hits"][0]["late_ms"].get<double>() == Approx (250).margin (2));

    // 6 s become 6.25 s, which is where the picture is at 24 when it was made for 25 frame for frame: 144 frames at 25 are 5.76 s.
    const auto grid =
        must ({ "lineup", book, "1M1", "--deliveries", "24", "25:from:24", "live:18", "live:20", "--json" }).json()[0];
    REQUIRE (grid["columns"].size() == 4);
    const auto late = [&] (int row, int column) { return grid["rows"][row]["cells"][column]["late_ms"].get<double>(); };
    CHECK (late (0, 0) == Approx (250).margin (2));
    CHECK (late (0, 1) == Approx (490).margin (2));
    CHECK (late (0, 2) == Approx (250).margin (2));
    CHECK (late (1, 3) == Approx (1700).margin (2)); // 12.5 s against 216 film frames at 20, 10.8 s
    CHECK (grid["columns"][0]["factor"].get<double>() == Approx (0.96).margin (0.0003));
    CHECK (grid["columns"][1]["factor"].get<double>() == Approx (0.9216).margin (0.0003));
    CHECK (grid["columns"][0]["worst_mended_ms"].get<double>() < 2);
}

TEST_CASE ("lineup: pops found, misplaced and missing, and an end that comes too soon")
{
    const Folder folder;
    const auto book = bookOf (folder);
    const auto make = [&] (const std::string& name, double pop, double until)
    {
        std::vector<float> samples (52 * takeRate, 0.0f);
        if (pop >= 0)
            tone (samples, pop, 1.0 / 24);
        for (const double beat : beats())
            if (beat < until)
                strike (samples, 8 + beat);
        writeWav (folder / name, samples);
        must ({ "sounds", book, "add", folder / name, "--cue", "1M1", "--from", "-8s" });
        return run ({ "lineup", book, name, "--json" }).json()[0]["sentences"].dump();
    };
    // WORKED G: at 24 the pop belongs 48 frames, two seconds, before picture start: at 6 s of a sound that starts 8 s before it.
    const auto right = make ("right.wav", 6, 99);
    CHECK (right.find ("where it belongs: 48 frames (2.000 s) before picture start") != std::string::npos);
    CHECK (right.find ("ends with its cue") != std::string::npos);
    const auto wrong = make ("wrong.wav", 6.125, 99);
    CHECK (wrong.find ("125 ms late (3.0 frames)") != std::string::npos);
    const auto missing = make ("missing.wav", -1, 30);
    CHECK (missing.find ("Pop missing: one belongs at 0:06.000") != std::string::npos);
    CHECK (missing.find ("before the out of cue 1M1") != std::string::npos);
}

TEST_CASE ("lineup: a sound of another cue, and sounds after a recut")
{
    const Folder folder;
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 720);
    must ({ "new", book, film, "--running", "18", "--final", "24" });
    must ({ "cues", book, "add", "--number", "1M1", "--in", "film:0", "--out", "film:360" });
    must ({ "cues", book, "add", "--number", "1M2", "--in", "film:360", "--out", "end" });
    must ({ "tempo", book, "1M1", "set", "--tempo", "96", "5:104" });
    must ({ "tempo", book, "1M2", "set", "--tempo", "126", "5:117" });
    std::vector<float> samples (20 * takeRate, 0.0f);
    std::size_t count = 0;
    for (double at = 0; at < 19.5; at += count <= 16 ? 60.0 / 126 : 60.0 / 117)
    {
        strike (samples, at);
        ++count;
    }
    writeWav (folder / "take.wav", samples);
    must ({ "sounds", book, "add", folder / "take.wav", "--cue", "1M1" });
    const auto ran = run ({ "lineup", book, "1M1", "--json" });
    CHECK (ran.status == 1);
    CHECK (ran.json()[0]["whole"]["wrong_cue"] == "1M2");

    const auto stands = must ({ "lineup", book, "--recut", "--json" }).json();
    REQUIRE (stands.size() == 1);
    CHECK (stands[0]["stand"] == "stands");
}
