// The commands tempo, fit and click on a book as a user has it.
#include "cli/Bench.h"

#include "desk/CueClick.h"
#include "exchange/SampleBook.h"

#include <algorithm>
#include <array>
#include <cstdio>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
/// 60 seconds of film at 24 with one cue and hits on the beats of 96 from half a second on, two of them musts.
std::string beatBook (const Folder& folder)
{
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 1440);
    must ({ "new", book, film, "--running", "24", "--final", "24", "--start", "01:00:00:00" });
    must ({ "cues", book, "add", "--number", "1M1", "--title", "Flood", "--in", "film:0", "--out", "end" });
    for (const int beat : { 0, 7, 16, 23, 32, 44, 57, 71 })
        must ({ "hits", book, "add", "--at", "film:" + std::to_string (12 + beat * 15), "--label", "beat " + std::to_string (beat),
                "--cue", "1M1", "--weight", beat % 16 == 0 ? "must" : "should" });
    return book;
}

/// Seconds at which ffmpeg hears silences end, block after block: it prints six figures, too few for an hour.
std::vector<double> silencesEnd (const std::string& file, int seconds)
{
    constexpr int block = 90, before = 1; // what straddles a block's begin is heard in the one before
    std::vector<double> ends;
    for (int from = 0; from < seconds; from += block)
    {
        const std::string command = "ffmpeg -hide_banner -nostats -ss " + std::to_string (from) + " -t " + std::to_string (block + before)
                                    + " -i '" + file + "' -af silencedetect=n=-70dB:d=0.02 -f null - 2>&1";
        FILE* pipe = ::popen (command.c_str(), "r");
        REQUIRE (pipe != nullptr);
        std::array<char, 4096> line{};
        while (std::fgets (line.data(), static_cast<int> (line.size()), pipe) != nullptr)
        {
            const std::string text (line.data());
            if (const auto at = text.find ("silence_end: "); at != std::string::npos)
                ends.push_back (from + std::stod (text.substr (at + 13)));
        }
        ::pclose (pipe);
    }
    std::sort (ends.begin(), ends.end());
    return ends;
}
} // namespace

TEST_CASE ("fit finds the planted tempo, lists the hits, and sets it in the cue")
{
    Folder folder;
    const auto book = beatBook (folder);
    const auto answer = must ({ "fit", book, "1M1", "--range", "70-130", "--measure", "largest", "--json" }).json();
    REQUIRE (answer["fits"] == true);
    const auto& best = answer["best"][0];
    CHECK (best["tempo"] == "96.0000");
    CHECK (best["click"] == "15-0");
    CHECK (best["hits"].size() == 8);
    CHECK (best["hits"][0]["late_frames"] == "0.000");
    CHECK (best["within"] == 8);
    CHECK (best["start_from_in"] == "0.500000");
    CHECK (best["value"].get<double>() < 1e-6);
    CHECK (best["chance"].get<double>() > .1);
    const auto table = must ({ "fit", book, "1M1", "--range", "70-130", "--set", "1", "--curve", folder / "curve.svg" });
    CHECK (table.out.find ("15-0 (96.00)") != std::string::npos);
    CHECK (readFile (folder / "curve.svg").find ("<polyline") != std::string::npos);
    const auto shown = must ({ "tempo", book, "1M1", "--json" }).json();
    for (const auto& hit : shown["hits"])
    {
        const double beat = std::stod (hit["beat"].get<std::string>());
        CHECK (std::abs (beat - std::round (beat)) < .14);
    }
    must ({ "fit", book, "1M1", "--range", "90-100", "--step", "1", "--curve", folder / "curve.csv" });
    CHECK (readFile (folder / "curve.csv").find ("96.0000,0.000000000,") != std::string::npos);
    CHECK (run ({ "fit", book, "1M1", "--curve", folder / "curve.png" }).status == 2);
    // Strong beats are preferred within limits, which leave a little room around the planted tempo.
    const auto strong = must ({ "fit", book, "1M1", "--strong", "--range", "90-100", "--json" }).json()["best"][0];
    CHECK (std::abs (std::stod (strong["tempo"].get<std::string>()) - 96) < .1);
    CHECK (strong["within"] == 8);
}

TEST_CASE ("fit says when nothing fits and what stands in the way")
{
    Folder folder;
    const auto book = beatBook (folder);
    must ({ "hits", book, "add", "--at", "film:17", "--label", "too near", "--cue", "1M1", "--weight", "must" });
    const auto none = run ({ "fit", book, "1M1", "--range", "60-80" });
    CHECK (none.status == 1);
    CHECK (none.out.find ("Nothing fits: no tempo from 60.00 to 80.00") != std::string::npos);
    CHECK (none.out.find ("beat 0 at 0:00.50 and too near at 0:00.71 both") != std::string::npos);
    CHECK (run ({ "fit", book, "1M1", "--range", "60-80", "--loose" }).status == 0);
    CHECK (run ({ "fit", book, "1M1", "--range", "80-60" }).status == 2);
    CHECK (run ({ "fit", book, "1M9" }).status == 2);
    CHECK (run ({ "fit", book, "1M1", "--measure", "best" }).status == 2);
}

TEST_CASE ("bars between musts are fitted, set, and every must falls on a bar start")
{
    Folder folder;
    const auto book = beatBook (folder);
    const auto answer = must ({ "fit", book, "1M1", "--bars", "--preferred", "96", "--json" }).json();
    REQUIRE (answer["fits"] == true);
    // The cue's in is half a second before the first must, less than a bar: bar 1 begins on that.
    CHECK (answer["stretches"].size() == 2);
    const auto set = must ({ "fit", book, "1M1", "--bars", "--preferred", "96", "--set", "1" });
    CHECK (set.err.find ("bar 1 begins on beat 0 at 0:00.50") != std::string::npos);
    const auto shown = must ({ "tempo", book, "1M1", "--json" }).json();
    int starts = 0;
    for (const auto& hit : shown["hits"])
    {
        const double beat = std::stod (hit["beat"].get<std::string>());
        starts += std::abs (beat - 1) < .05 || beat > 4.93;
    }
    CHECK (starts >= 3);
    const auto table = must ({ "fit", book, "1M1", "--bars", "--cost", "longer=0.1", "--landing", "0" });
    CHECK (table.out.find ("longer 0.100") != std::string::npos);
    CHECK (table.out.find ("the least that any bars have") != std::string::npos);
    CHECK (run ({ "fit", book, "1M1", "--bars", "--cost", "nonsense=1" }).status == 2);
    const auto none = run ({ "fit", book, "1M1", "--bars", "--preferred", "41", "--band", "1", "--landing", "0" });
    CHECK (none.status == 1);
    CHECK (none.out.find ("no bars fit between") != std::string::npos);
}

TEST_CASE ("a tempo map is set by words, listed, kept in the book, and cleared")
{
    Folder folder;
    const auto book = beatBook (folder);
    must ({ "tempo",  book,       "1M1",   "set",        "--tempo",      "96",       "--tempo",  "9:96~",  "--tempo",
            "13:120", "--meter",  "4/4",   "--meter",    "5:7/8(2+2+3)", "--pickup", "1",        "--hold", "3.2:4.5s",
            "--free", "14:15:6s", "--key", "1:-3 minor", "--bar-one",    "me-2",     "--offset", "-1/24" });
    const auto shown = must ({ "tempo", book, "1M1", "--bars" });
    for (const char* line : { "pickup 1", "meter 5:7/8(2+2+3)", "tempo 0.4:96", "tempo 9:96~", "tempo 13:120",
                              "hold 3.2:quarter:9/2s", "free 14:15:6s", "key 1:-3 minor", "bar 1 at 0:00.458" })
        CHECK (shown.out.find (line) != std::string::npos);
    // What is listed is what is typed: the same map again.
    const auto before = must ({ "tempo", book, "1M1", "--json" }).json();
    must ({ "tempo", book, "1M1", "set", "--tempo", "0.4:96", "--tempo", "9:96~", "--tempo", "13:120" });
    CHECK (must ({ "tempo", book, "1M1", "--json" }).json() == before);
    must ({ "tempo", book, "1M1", "set", "--tempo", "13-0", "--meter", "6/8" });
    CHECK (must ({ "tempo", book, "1M1" }).out.find ("1440/13") != std::string::npos);
    CHECK (run ({ "tempo", book, "1M1", "set", "--tempo", "fast" }).status == 2);
    CHECK (run ({ "tempo", book, "1M1", "set", "--tempo", "9:96~" }).status == 2);
    CHECK (run ({ "tempo", book, "1M1", "set", "--bar-one", "nowhere" }).status == 2);
    must ({ "tempo", book, "1M1", "clear" });
    CHECK (must ({ "tempo", book, "1M1" }).out.find ("no tempo yet") != std::string::npos);
}

TEST_CASE ("a composer's MIDI file comes back, and what changed is said")
{
    Folder folder;
    const auto book = beatBook (folder);
    must ({ "tempo", book, "1M1", "set", "--tempo", "97.3", "--tempo", "9:132" });
    must ({ "export", book, "midi-cues", "-o", folder / "cue.mid" });
    const auto same = must ({ "tempo", book, "1M1", "read", folder / "cue-1M1.mid" });
    CHECK (same.out.find ("nothing differs") != std::string::npos);
    must ({ "tempo", book, "1M1", "set", "--tempo", "97.3", "--tempo", "9:120" });
    const auto other = run ({ "tempo", book, "1M1", "read", folder / "cue-1M1.mid" });
    CHECK (other.status == 1);
    CHECK (other.out.find ("bar 9: 120.00 quarter notes a minute in the book, 132.00 in the file") != std::string::npos);
    must ({ "tempo", book, "1M1", "read", folder / "cue-1M1.mid", "--set" });
    CHECK (must ({ "tempo", book, "1M1" }).out.find ("tempo 9:132") != std::string::npos);
    writeFile (folder / "no.mid", "not music");
    CHECK (run ({ "tempo", book, "1M1", "read", folder / "no.mid" }).status == 3);
    must ({ "export", book, "musicxml", "-o", folder / "score.musicxml" });
    CHECK (readFile (folder / "score-1M1.musicxml").find ("score-partwise") != std::string::npos);
    CHECK (must ({ "tempo", book, "1M1", "read", folder / "score-1M1.musicxml" }).out.find ("nothing differs")
           != std::string::npos);
}

TEST_CASE ("another speed: the tempo kept or the bars kept, both shown before one is chosen")
{
    Folder folder;
    const auto book = beatBook (folder);
    must ({ "tempo", book, "1M1", "set", "--tempo", "96", "--offset", "1/2" });
    const auto both = must ({ "tempo", book, "1M1", "effect", "--running", "20", "--json" }).json();
    CHECK (both["keep_tempo"] == "96.00");
    CHECK (both["keep_bars"] == "80.00");
    // The pin half a second after the in does not scale with the picture: what is left is that.
    for (const auto& hit : both["hits"])
        CHECK (std::abs (std::stod (hit["late_when_bars_kept"].get<std::string>())) < .15);
    CHECK (std::stod (both["hits"][7]["late_when_tempo_kept"].get<std::string>()) < -8);
    must ({ "tempo", book, "1M1", "effect", "--running", "20", "--keep", "bars" });
    CHECK (must ({ "tempo", book, "1M1" }).out.find ("tempo 1:80") != std::string::npos);
}

TEST_CASE ("after a recut the ways to keep what is written, and one carried out")
{
    Folder folder;
    const auto book = beatBook (folder);
    must ({ "tempo", book, "1M1", "set", "--tempo", "96", "--bar-one", "me-2" });
    // Beat 32 of the picture, written as bar 10: a bar too late.
    const auto ways = must ({ "fit", book, "1M1", "--written", "me-2=1", "--written", "me-6=10", "--json" }).json();
    CHECK (ways["change_seconds"] == "-5/2");
    CHECK (ways["ways"][0]["what"].get<std::string>().find ("1 bar taken out at any of bars 1 to 9") == 0);
    must ({ "fit", book, "1M1", "--written", "me-2=1", "--written", "me-6=10", "--set", "1" });
    CHECK (run ({ "fit", book, "1M1", "--written", "me-2=1" }).status == 2);
    CHECK (run ({ "fit", book, "1M1", "--written", "me-2=1", "--written", "me-99=10" }).status == 2);
}

TEST_CASE ("a click file: free clicks, accents, level, and where it begins")
{
    Folder folder;
    const auto book = beatBook (folder);
    CHECK (run ({ "click", book, "1M1", "-o", folder / "c.wav" }).status == 2);
    must ({ "tempo", book, "1M1", "set", "--tempo", "96", "--offset", "1/2" });
    const auto ran = must ({ "click", book, "1M1", "-o", folder / "c.wav", "--json" });
    const auto json = ran.json();
    CHECK (json["free_clicks"] == 4);
    CHECK (json["clicks"] == 96);
    CHECK (json["first_sample"] == -96000);
    CHECK (ran.err.find ("Headphones") != std::string::npos);
    const auto loud = must ({ "click", book, "1M1", "-o", folder / "c.wav", "--level", "-3" });
    CHECK (loud.err.find ("lowered to -6 dB") != std::string::npos);
    CHECK (run ({ "click", book, "1M1", "-o", folder / "c.wav", "--level", "3" }).status == 2);
    CHECK (run ({ "click", book, "1M1", "-o", folder / "c.wav", "--pattern", "abc" }).status == 2);
    CHECK (run ({ "click", book, "1M1", "-o", folder / "none/c.wav" }).status == 4);
    must ({ "click", book, "1M1", "-o", folder / "c.wav", "--free-bars", "2", "--parts", "2", "--pattern", "Xx.x", "--even" });
}

TEST_CASE ("every click of an hour lies within half a sample of its moment, as ffmpeg hears it too")
{
    auto book = plainBook ({ 3600 * 24 }, Rational (24), "23.976");
    auto cue = cueAt ("c-1", "1M1", 0, 3600 * 24, "Hour");
    cue.out = film::EdgePlace{ "s1", film::Edge::tail, std::int64_t{ 0 }, 0 };
    music::TempoPlan plan;
    plan.tempos = { { 0, Rational (973, 10), Rational (1, 4), music::Course::steady, {} },
                    { 400, Rational (973, 10), Rational (1, 4), music::Course::rampInBeat, {} },
                    { 500, Rational (13107, 100), Rational (1, 4), music::Course::steady, {} } };
    cue.tempo = *music::TempoMap::of (plan);
    cue.barOne.seconds = Rational (1, 7);
    book.cues = std::vector{ cue };
    const auto times = timed (book);
    Folder folder;
    const auto file = folder / "hour.wav";
    desk::ClickWish wish;
    wish.samplesPerSecond = 8000;
    const auto written = desk::writeClick (times, "c-1", wish, file);
    REQUIRE (written.ok());
    const auto bytes = readFile (file);
    const auto head = bytes.find ("data") + 8;
    const auto clicks = *music::clicksOf (*cue.tempo, times.cues[0].out->clock - *times.cues[0].barOne, wish.look);
    REQUIRE (clicks.size() > 7000);
    // A click begins at its loudest: the first sample that sounds after 10 ms of silence.
    std::vector<std::int64_t> onsets;
    int silent = 1000;
    const auto samples = (bytes.size() - head) / 3;
    for (std::size_t n = 0; n < samples; ++n)
    {
        const bool sounds = bytes[head + 3 * n] != 0 || bytes[head + 3 * n + 1] != 0 || bytes[head + 3 * n + 2] != 0;
        if (sounds && silent > 80)
            onsets.push_back (static_cast<std::int64_t> (n));
        silent = sounds ? 0 : silent + 1;
    }
    REQUIRE (onsets.size() == clicks.size());
    for (std::size_t i = 0; i < clicks.size(); ++i)
    {
        const auto exact = (*times.cues[0].barOne + clicks[i].seconds) * Rational (8000) - Rational (written->firstSample);
        const auto off = Rational (onsets[i]) - exact;
        if (off > Rational (1, 2) || off < Rational (-1, 2))
            FAIL ("click " << i << " is " << time::toDouble (off) << " samples off");
    }
    // The end of each silence by another program's measure.
    const auto heard = silencesEnd (file, static_cast<int> (samples / 8000) + 1);
    REQUIRE (heard.size() + 1 >= clicks.size());
    std::size_t matched = 0;
    for (std::size_t i = 1; i < clicks.size(); ++i)
    {
        const double at =
            time::toDouble (*times.cues[0].barOne + clicks[i].seconds) - static_cast<double> (written->firstSample) / 8000;
        const auto near = std::lower_bound (heard.begin(), heard.end(), at - .0005);
        matched += near != heard.end() && std::abs (*near - at) < .0005;
    }
    CHECK (matched == clicks.size() - 1);
}
