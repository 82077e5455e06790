#include "Bench.h"

#include <array>
#include <cmath>
#include <cstdio>
#include <set>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
std::string told (const std::string& command)
{
    std::string text;
    std::array<char, 4096> piece{};
    FILE* pipe = ::popen (command.c_str(), "r");
    REQUIRE (pipe != nullptr);
    while (const auto got = std::fread (piece.data(), 1, piece.size(), pipe))
        text.append (piece.data(), got);
    REQUIRE (::pclose (pipe) == 0);
    return text;
}

nlohmann::json probed (const std::string& movie, const std::string& what)
{
    return nlohmann::json::parse (told ("ffprobe -v error " + what + " -of json '" + movie + "'"));
}

/// Hash of every decoded picture and sample.
/// Of the packets, not of what is decoded: Matroska's decoder gives the priming of the sound too.
std::string contentOf (const std::string& movie)
{
    return told ("ffmpeg -v error -i '" + movie + "' -map 0:v -map 0:a -c copy -f streamhash -hash md5 -");
}

/// A book on 300 film frames at 18, final 24, with two cues and two hits.
std::string chaptersBook (const Folder& folder)
{
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 300);
    must ({ "new", book, film, "--running", "18", "--final", "24", "--start", "01:00:00:00" });
    must ({ "cues", book, "add", "--number", "1M1", "--title", "Køkkenet; nat", "--in", "film:30", "--out", "film:150" });
    must ({ "cues", book, "add", "--number", "1M2", "--title", "Flugten", "--in", "film:151", "--out", "end" });
    must ({ "hits", book, "add", "--at", "film:100", "--label", "Kagen lander" });
    return book;
}
} // namespace

TEST_CASE ("Chapters are written into MP4, MOV and MKV and nothing else of the movie changes: ffprobe reads them")
{
    Folder folder;
    const auto book = chaptersBook (folder), movie = folder / "movie.mp4";
    for (const std::string rate : { "24", "29.97df" })
    {
        must ({ "render", book, "-o", movie, "--final", rate, "--size", "160x120", "--show", "none", "--preset", "ultrafast",
                "--leader", "5" });
        const auto times = must ({ "times", book, "--json", "--final", rate }).json();
        const auto number = rate == "24" ? 24.0 : 30000.0 / 1001;
        const auto leader = rate == "24" ? 120 : 150;
        const auto in = [&] (int cue)
        { return times["cues"][static_cast<std::size_t> (cue)]["in"]["delivered_frame"].get<std::int64_t>(); };
        const auto before = contentOf (movie);
        for (const std::string ending : { "mp4", "mov", "mkv" })
        {
            INFO (rate << " " << ending);
            const auto out = folder / ("with." + ending);
            const auto made = must ({ "chapters", book, movie, "-o", out, "--final", rate, "--chapter", "me-3", "--json" }).json();
            CHECK (made["leader_frames"] == leader);
            const auto chapters = probed (out, "-show_chapters")["chapters"];
            REQUIRE (chapters.size() == 5);
            const double firstPicture = std::stod (
                probed (out, "-select_streams v -show_entries frame=pts_time -read_intervals %+#1")["frames"][0]["pts_time"]
                    .get<std::string>());
            CHECK (std::abs (std::stod (chapters[0]["start_time"].get<std::string>()) - firstPicture) < .001);
            CHECK (chapters[0]["tags"]["title"] == "Leader");
            const std::vector<std::pair<std::int64_t, std::string>> wanted{
                { 0, "film" },
                { in (0), "Køkkenet; nat" },
                { times["hits"][0]["delivered_frame"].get<std::int64_t>(), "Kagen lander" },
                { in (1), "Flugten" }
            };
            for (std::size_t i = 0; i < 4; ++i)
            {
                // Where the picture itself lies in the file: Matroska moves all of it on by the priming of the sound.
                const double at = std::stod (chapters[i + 1]["start_time"].get<std::string>()) - firstPicture;
                CHECK (at * number == Approx (static_cast<double> (wanted[i].first + leader)).margin (.04));
                CHECK (chapters[i + 1]["tags"]["title"] == wanted[i].second);
            }
            CHECK (contentOf (out) == before);
            const auto video =
                probed (out, "-select_streams v -count_packets -show_entries stream=nb_read_packets:stream_tags")["streams"][0];
            CHECK (video["nb_read_packets"]
                   == probed (
                       movie,
                       "-select_streams v -count_packets -show_entries stream=nb_read_packets")["streams"][0]["nb_read_packets"]);
            CHECK (must ({ "scan", out, "--json" }).json()["start_timecode"]
                   == must ({ "scan", movie, "--json" }).json()["start_timecode"]);

            // And back in: each at its own picture, in a book without hits of its own.
            const auto empty = folder / ("empty-" + rate + ending + ".shutterbeat");
            must ({ "new", empty, folder / "film.mp4", "--running", "18", "--final", "24", "--start", "01:00:00:00" });
            must ({ "import", empty, "chapters", out, "--final", rate });
            const auto back = must ({ "times", empty, "--json", "--final", rate }).json()["hits"];
            REQUIRE (back.size() == 4);
            for (std::size_t i = 0; i < 4; ++i)
            {
                CHECK (back[i]["delivered_frame"] == wanted[i].first);
                CHECK (back[i]["label"] == wanted[i].second);
            }
        }
    }
}

TEST_CASE ("Chapters move to key pictures only when asked, and the shift is said")
{
    Folder folder;
    const auto book = chaptersBook (folder), movie = folder / "movie.mp4", out = folder / "with.mp4";
    must ({ "render", book, "-o", movie, "--size", "160x120", "--show", "none", "--preset", "ultrafast", "--no-sound" });
    const auto keys = probed (movie, "-select_streams v -show_entries packet=pts_time,flags")["packets"];
    const auto made = run ({ "chapters", book, movie, "-o", out, "--on-key-pictures", "--json" });
    CHECK (made.status == 0);
    const auto chapters = made.json()["chapters"];
    std::set<std::int64_t> keyFrames;
    for (const auto& packet : keys)
        if (packet["flags"].get<std::string>()[0] == 'K')
            keyFrames.insert (std::llround (std::stod (packet["pts_time"].get<std::string>()) * 24));
    const auto plain = must ({ "chapters", book, movie, "--json" }).json()["chapters"];
    REQUIRE (chapters.size() == plain.size());
    for (std::size_t i = 0; i < plain.size(); ++i)
    {
        const auto exact = plain[i]["movie_frame"].get<std::int64_t>(), moved = chapters[i]["movie_frame"].get<std::int64_t>();
        CHECK (moved == *std::prev (keyFrames.upper_bound (exact)));
        if (moved != exact)
            CHECK (made.err.find (std::to_string (exact - moved) + " frames") != std::string::npos);
    }
    const auto probe = probed (out, "-show_chapters")["chapters"];
    for (std::size_t i = 0; i < probe.size(); ++i)
        CHECK (std::llround (std::stod (probe[i]["start_time"].get<std::string>()) * 24)
               == chapters[i]["movie_frame"].get<std::int64_t>());
    // Wrong movies are refused: another rate, too short, the movie itself, no movie.
    CHECK (run ({ "chapters", book, movie, "-o", out, "--final", "25" }).status == 2);
    CHECK (run ({ "chapters", book, folder / "film.mp4", "-o", out }).status == 2);
    CHECK (run ({ "chapters", book, movie, "-o", movie }).status == 2);
    CHECK (run ({ "chapters", book, book, "-o", out }).status == 3);
    CHECK (run ({ "chapters", book, movie, "-o", folder / "with.avi" }).status == 2);
}
