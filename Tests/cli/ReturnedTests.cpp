#include "Bench.h"

#include "exchange/WavFile.h"

#include <cmath>
#include <numbers>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
std::string returnedBook (const Folder& folder)
{
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 300);
    must ({ "new", book, film, "--running", "18", "--final", "24", "--start", "01:00:00:00" });
    must ({ "cues", book, "add", "--number", "1M1", "--title", "Waltz", "--in", "film:9", "--out", "film:150", "--tempo", "96" });
    must ({ "cues", book, "add", "--number", "1M2", "--in", "film:150", "--out", "end" });
    must ({ "hits", book, "add", "--at", "film:100", "--label", "The lamp", "--cue", "1M1" });
    return book;
}

/// Three seconds of a soft tone; `reference` as its time stamp.
void writeTake (const std::string& path, std::int64_t reference)
{
    exchange::WavLook look;
    look.timeReference = reference;
    std::vector<float> samples (3 * 48000);
    for (std::size_t s = 0; s < samples.size(); ++s)
        samples[s] = 0.05f * static_cast<float> (std::sin (2 * std::numbers::pi * 330 * static_cast<double> (s) / 48000));
    auto bytes = exchange::wavHead (look, static_cast<std::int64_t> (samples.size()));
    exchange::appendSamples (bytes, samples);
    writeFile (path, bytes);
}

nlohmann::json matched (const std::string& book, const std::string& file, int status = 0)
{
    const auto ran = run ({ "returned", book, file, "--json" });
    INFO (ran.err);
    CHECK (ran.status == status);
    return ran.json()["files"][0];
}
} // namespace

TEST_CASE ("Returned sounds are matched by timecode, time stamp, pop or name: which was used is said, two are compared")
{
    Folder folder;
    const auto book = returnedBook (folder);
    // Linear timecode and a time stamp that agree.
    const auto code = folder / "code.wav";
    must ({ "export", book, "ltc", "-o", code });
    const auto byCode = matched (book, code);
    CHECK (byCode["used"] == "LTC");
    REQUIRE (byCode["signs"].size() == 2);
    CHECK (byCode["signs"][1]["by"] == "WAV time stamp");
    CHECK (std::abs (std::stod (byCode["signs"][0]["seconds"].get<std::string>())) < 0.002);
    CHECK (byCode["disagree"] == false);

    // A time stamp alone: 7.5 s is film frame 135, in 1M1; just before 8.333 s is in 1M1 as well, after it 1M2.
    const auto take = folder / "take.wav";
    writeTake (take, 172800000 + 9 * 48000);
    const auto byStamp = matched (book, take);
    CHECK (byStamp["used"] == "WAV time stamp");
    CHECK (byStamp["number"] == "1M2");
    CHECK (byStamp["signs"][0]["seconds"] == "9.000");

    // A pop: the mixdown's own, two seconds before the picture, 8 s into the file; its time stamp agrees.
    must ({ "sounds", book, "add", take, "--at", "9s" });
    const auto mix = folder / "mix.wav";
    must ({ "mixdown", book, "-o", mix, "--leader", "10", "--pop" });
    const auto byPop = matched (book, mix);
    CHECK (byPop["used"] == "WAV time stamp");
    REQUIRE (byPop["signs"].size() == 2);
    CHECK (byPop["signs"][1]["by"] == "pop");
    CHECK (std::abs (std::stod (byPop["signs"][1]["seconds"].get<std::string>()) + 10) < 0.0015);
    // Without the stamp the pop places it (a FLAC has none).
    const auto flac = folder / "mix.flac";
    REQUIRE (std::system (("ffmpeg -v error -i '" + mix + "' -map_metadata -1 '" + flac + "'").c_str()) == 0);
    const auto popOnly = matched (book, flac);
    CHECK (popOnly["used"] == "pop");

    // The name tells the cue; with a time stamp elsewhere they disagree, and it is not added.
    const auto named = folder / "1M1 strings.wav";
    fs::copy_file (take, named);
    const auto wrong = matched (book, named, 1);
    CHECK (wrong["number"] == "1M1");
    CHECK (wrong["disagree"] == true);
    const auto onlyName = folder / "1M1 harp.flac";
    REQUIRE (std::system (("ffmpeg -v error -i '" + take + "' -map_metadata -1 '" + onlyName + "'").c_str()) == 0);
    const auto byName = matched (book, onlyName);
    CHECK (byName["used"] == "name");
    CHECK (byName["signs"][0]["seconds"] == "0.500");

    const auto nothing = folder / "unknown.flac";
    fs::copy_file (onlyName, nothing);
    CHECK (matched (book, nothing, 1)["used"].is_null());
    const auto added = run ({ "returned", book, onlyName, named, flac, "--add", "--person", "ida", "--json" });
    CHECK (added.status == 1);
    CHECK (added.json()["added"] == 2);
    const auto sounds = must ({ "sounds", book, "list", "--json" }).json();
    REQUIRE (sounds.size() == 3);
    CHECK (sounds[1]["placed_by"] == "name");
    CHECK (sounds[2]["placed_by"] == "pop");
    CHECK (run ({ "returned", book, book }).status == 3);
}

TEST_CASE ("Returned MIDI files are matched by marker, SMPTE offset and name")
{
    Folder folder;
    const auto book = returnedBook (folder), all = folder / "cue.mid";
    const auto made = must ({ "export", book, "midi-cues", "-o", all, "--json" }).json()["files"];
    REQUIRE (made.size() == 1);
    const auto file = matched (book, made[0].get<std::string>());
    CHECK (file["midi"] == true);
    CHECK (file["number"] == "1M1");
    bool offset = false;
    for (const auto& sign : file["signs"])
        offset =
            offset || (sign["by"] == "SMPTE offset" && std::abs (std::stod (sign["seconds"].get<std::string>()) - 0.5) < 0.001);
    CHECK (offset);
}
