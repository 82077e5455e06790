#include "cli/Bench.h"

#include <set>

using namespace shutterbeat;
using tests::Folder;
using tests::must;
using tests::readFile;
using tests::run;
using tests::writeFile;

namespace
{
namespace fs = std::filesystem;

/// A small film with a few hits and two cues.
std::string smallBook (const Folder& folder)
{
    tests::makeFilm (folder / "film.mp4", 240);
    const auto book = folder / "kite.shutterbeat";
    must ({ "new", book, folder / "film.mp4", "--running", "20", "--final", "25", "--title", "The Baker's Kite" });
    must ({ "cues", book, "add", "--number", "1M1", "--title", "Up", "--in", "film:0", "--out", "film:120", "--tempo", "96" });
    must ({ "cues", book, "add", "--number", "1M2", "--in", "film:120", "--out", "film:240" });
    for (const char* frame : { "10", "50", "130" })
        must ({ "hits", book, "add", "--at", std::string ("film:") + frame, "--label", std::string ("hit ") + frame });
    return book;
}
} // namespace

TEST_CASE ("export --all makes every list and sheet, each of which is also made by its name")
{
    Folder folder;
    const auto book = smallBook (folder);
    const auto made = must ({ "export", book, "--all", folder / "out", "--stamped", "2026-05-01", "--json" }).json();
    std::set<std::string> names;
    for (const auto& file : made["files"])
        names.insert (fs::path (file.get<std::string>()).filename().string());
    for (const char* name : { "hits.csv",        "cues.csv",           "hits.txt",         "markers.mid",    "hits.edl",
                              "film.otio",       "hits.vtt",           "cards.vtt",        "hits.srt",       "cards.srt",
                              "chapters.ffmeta", "spotting-notes.pdf", "timing-notes.pdf", "cue-list.pdf",   "click-chart.pdf",
                              "strip-score.pdf", "players.pdf",        "rights.pdf",       "title-list.pdf", "source-list.pdf" })
    {
        INFO (name);
        CHECK (names.contains (name));
        // A film without cards has no wordings: SubRip is then an empty file.
        CHECK (fs::file_size (folder / ("out/" + std::string (name))) >= (std::string (name) == "cards.srt" ? 0u : 9u));
    }
    CHECK_FALSE (names.contains ("timecode.wav")); // large: only by its name
    must ({ "export", book, "ltc", "-o", folder / "timecode.wav" });
    CHECK (fs::file_size (folder / "timecode.wav") > 12 * 48000 * 3);
    must ({ "export", book, "timing-notes", "-o", folder / "one.pdf", "--stamped", "2026-05-01" });
    CHECK (readFile (folder / "one.pdf") == readFile (folder / "out/timing-notes.pdf"));
    must ({ "export", book, "players", "-o", folder / "live.pdf", "--running", "24", "--paper", "letter" });
}

TEST_CASE ("tables come in the look that was asked for, and words there are not are refused")
{
    Folder folder;
    const auto book = smallBook (folder);
    must ({ "export", book, "csv", "-o", folder / "hits.tsv", "--columns", "label,clock", "--separator", "tab", "--decimal",
            "comma", "--plain" });
    const auto text = readFile (folder / "hits.tsv");
    CHECK (text.substr (0, 13) == "label\tclock\r\n");
    CHECK (text.find ("hit 10\t0,52") != std::string::npos); // 13 delivered frames at 25
    for (const auto& wrong : std::vector<std::vector<std::string>>{
             { "--separator", "dot" }, { "--decimal", "dash" }, { "--paper", "a5" }, { "--columns", "nothing" } })
    {
        auto words = std::vector<std::string>{ "export", book, "csv", "-o", folder / "x.csv" };
        words.insert (words.end(), wrong.begin(), wrong.end());
        CHECK (run (words).status == 2);
    }
    CHECK_FALSE (fs::exists (folder / "x.csv"));
}

TEST_CASE ("import shows what would change, then does it in one step, and lists what it left out")
{
    Folder folder;
    const auto book = smallBook (folder);
    const auto before = readFile (book);
    writeFile (folder / "hits.csv", "label,film_frame,weight\nA bell,50,must\nA gull,90,may\nToo far,9000,may\n");
    const auto dry = run ({ "import", book, "csv", folder / "hits.csv", "--person", "ida", "--dry-run" });
    CHECK (dry.status == 1);
    CHECK (dry.out.find ("left out, line 4") != std::string::npos);
    CHECK (dry.out.find ("1 new, 0 changed, 1 merged") != std::string::npos);
    CHECK (dry.out.find ("nothing was saved") != std::string::npos);
    CHECK (readFile (book) == before);
    const auto ran = run ({ "import", book, "csv", folder / "hits.csv", "--person", "ida", "--json" });
    CHECK (ran.status == 1);
    CHECK (ran.json()["saved"] == true);
    const auto list = must ({ "hits", book, "--json" }).out;
    CHECK (list.find ("hit 50 / A bell") != std::string::npos);
    CHECK (list.find ("ida-1") != std::string::npos);
    // Its own list changes nothing; the book is not even written.
    must ({ "export", book, "csv", "-o", folder / "own.csv" });
    const auto now = readFile (book);
    CHECK (must ({ "import", book, "csv", folder / "own.csv" }).out.find ("0 new, 0 changed, 0 merged") != std::string::npos);
    CHECK (readFile (book) == now);
    CHECK (run ({ "import", book, "csv", folder / "missing.csv" }).status == 3);
    CHECK (run ({ "import", book, "otio", folder / "own.csv" }).err.find ("own.csv") != std::string::npos);
    CHECK (run ({ "import", book, "nothing", folder / "own.csv" }).status == 2);
}

TEST_CASE ("works are entered by command, used in cues, and what is unsettled is listed")
{
    Folder folder;
    const auto book = smallBook (folder);
    must ({ "works", book, "add", "Up and away", "--iswc", "T-034.524.680-1", "--writer", "Holm, Ida; C; 100; 199", "--publisher",
            "Lamplight Music; E; 50" });
    CHECK (run ({ "works", book, "add", "Wrong", "--iswc", "T-034.524.680-2" }).status == 2);
    CHECK (run ({ "works", book, "use", "1M1", "Up and away", "--usage", "QQ" }).status == 2);
    must ({ "works", book, "use", "1M1", "Up and away", "--usage", "BI" });
    must ({ "works", book, "production", "year=1921", "territory=World" });
    const auto list = run ({ "works", book });
    CHECK (list.status == 1);
    CHECK (list.err.find ("the shares of its publishers sum to 50, not 100") != std::string::npos);
    CHECK (list.err.find ("cue 1M2 has no work yet") != std::string::npos);
    must ({ "works", book, "set", "Up and away", "--publisher", "Lamplight Music; E; 100" });
    must ({ "works", book, "use", "1M2", "Up and away" });
    CHECK (must ({ "works", book, "--json" }).json()["faults"].empty());
    must ({ "works", book, "remove", "Up and away" });
    CHECK (run ({ "works", book, "production", "colour=red" }).status == 2);
}
