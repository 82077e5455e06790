#include "Bench.h"

using namespace shutterbeat::tests;

namespace
{
/// One sentence on err that names `where`, nothing on out, and the status asked for.
void refused (const std::vector<std::string>& words, int status, const std::string& where)
{
    const auto ran = run (words);
    INFO (ran.err);
    CHECK (ran.status == status);
    CHECK (ran.out.empty());
    CHECK (ran.err.find ("error: ") != std::string::npos);
    CHECK (ran.err.find (where) != std::string::npos);
}
} // namespace

TEST_CASE ("Files that are no films are refused by name")
{
    Folder folder;
    const auto film = folder / "film.mp4";
    makeFilm (film, 48);
    writeFile (folder / "empty.mp4", "");
    writeFile (folder / "text.mp4", "this is not a film at all, just words and more words\n");
    writeFile (folder / "cut.mp4", readFile (film).substr (0, 700));
    REQUIRE (std::system (("ffmpeg -v error -y -f lavfi -i sine=d=1 '" + (folder / "sound.wav") + "'").c_str()) == 0);
    for (const std::string name : { "missing.mp4", "empty.mp4", "text.mp4", "cut.mp4", "sound.wav", "" })
    {
        refused ({ "scan", folder / name }, 3, folder / name);
        refused ({ "still", folder / name, "0", "-o", folder / "x.png" }, 3, folder / name);
        refused ({ "new", folder / "x.shutterbeat", folder / name, "--running", "18" }, 3, folder / name);
        CHECK_FALSE (fs::exists (folder / "x.shutterbeat"));
        CHECK_FALSE (fs::exists (folder / "x.png"));
    }
}

TEST_CASE ("Rates, speeds, timecodes and places that do not exist leave the book untouched")
{
    Folder folder;
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 48);
    refused ({ "new", book, film }, 2, "--running");
    refused ({ "new", book, film, "--running", "0" }, 2, "speed");
    refused ({ "new", book, film, "--running", "18", "--final", "25df" }, 2, "drop-frame");
    refused ({ "new", book, film, "--running", "18", "--final", "23,976" }, 2, "23,976");
    refused ({ "new", book, film, "--running", "18", "--final", "29.97df", "--start", "00:01:00;00" }, 2, "00:01:00;02");
    refused ({ "new", book, film, "--running", "18", "--final", "24", "--start", "01:00:13:24" }, 2, "01:00:13:24");
    refused ({ "new", book, film, "--running", "18", "--fill", "from:29.97df" }, 2, "fill");
    CHECK_FALSE (fs::exists (book));

    must ({ "new", book, film, "--running", "18" });
    const auto before = readFile (book);
    const std::vector<std::pair<std::string, std::string>> places{ { "film:4800", "0 to 47" },
                                                                   { "film:-1", "film:-1" },
                                                                   { "file:48", "it has 48" },
                                                                   { "feet:100", "3+00 long" },
                                                                   { "tc:05:00:00:00", "05:00:00:00" },
                                                                   { "tc:25:00:00:00", "25:00:00:00" },
                                                                   { "edge:nosuch.head+0", "nosuch" },
                                                                   { "edge:1.head+480", "film:480" },
                                                                   { "99s", "the film does not have it" },
                                                                   { "somewhere", "somewhere" },
                                                                   { "film:", "film:" },
                                                                   { "1e9", "1e9" },
                                                                   { "r2:film:0", "reel 2" } };
    for (const auto& [place, said] : places)
        refused ({ "hits", book, "add", "--at", place }, 2, said);
    refused ({ "hits", book, "add", "--at", "1", "--kind", "explosion" }, 2, "explosion");
    refused ({ "hits", book, "add", "--at", "1", "--cue", "9M9" }, 2, "9M9");
    refused ({ "hits", book, "add", "--at", "1", "--person", "anna b" }, 2, "anna b");
    refused ({ "hits", book, "set", "anna-1", "--label", "x" }, 2, "anna-1");
    refused ({ "hits", book, "remove", "anna-1" }, 2, "anna-1");
    refused ({ "cues", book, "add", "--in", "20", "--out", "10" }, 2, "out");
    refused ({ "cues", book, "add", "--in", "0", "--out", "10", "--tempo", "0" }, 2, "tempo");
    refused ({ "times", book, "--edition", "Z" }, 2, "edition Z");
    refused ({ "export", book, "nosuch", "-o", folder / "x" }, 2, "nosuch");
    refused ({ "export", book, "cmx3600", "-o", folder / "x", "--final", "18" }, 2, "timecode");
    refused ({ "export", book, "csv", "-o", folder / "no/such/folder.csv" }, 4, "no/such");
    refused ({ "nosuchverb" }, 2, "nosuchverb");
    refused ({ "times" }, 2, "BOOK");
    CHECK (readFile (book) == before);
    CHECK_FALSE (fs::exists (folder / "x"));
}

TEST_CASE ("Damaged, foreign, newer and missing books are refused and stay as they are")
{
    Folder folder;
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 24);
    must ({ "new", book, film, "--running", "18" });
    const auto whole = readFile (book);
    auto newer = nlohmann::ordered_json::parse (whole);
    newer["schema"] = 99;
    for (const auto& bytes :
         { whole.substr (0, whole.size() / 2), std::string(), std::string ("{}"), newer.dump(), std::string (100, '\0') })
    {
        writeFile (book, bytes);
        refused ({ "times", book }, 3, book);
        refused ({ "hits", book, "add", "--at", "1" }, 3, book);
        refused ({ "export", book, "--all", folder / "out" }, 3, book);
        refused ({ "still", book, "0", "-o", folder / "x.png" }, 3, book);
        CHECK (readFile (book) == bytes);
    }
    refused ({ "times", folder / "none.shutterbeat" }, 3, "none.shutterbeat");
    writeFile (book, whole);
    refused ({ "new", book, film, "--running", "18" }, 4, book);
    CHECK (readFile (book) == whole);
}

TEST_CASE ("A film that has moved: the book still gives its times, says which film is gone, and finds it again")
{
    Folder folder;
    const auto film = folder / "reels/Ærø – “Stå”.mp4", book = folder / "b.shutterbeat", moved = folder / "elsewhere.mp4";
    fs::create_directory (folder / "reels");
    makeFilm (film, 30);
    must ({ "new", book, film, "--running", "18" });
    must ({ "hits", book, "add", "--at", "7", "--label", "seven" });
    fs::rename (film, moved);
    const auto before = readFile (book);
    CHECK (must ({ "times", book, "--json" }).json()["hits"][0]["film_frame"] == 7);
    refused ({ "export", book, "notes", "-o", folder / "n.pdf" }, 3, "Ærø – “Stå”.mp4");
    CHECK (run ({ "export", book, "notes", "-o", folder / "n.pdf" }).err.find ("relink") != std::string::npos);
    CHECK_FALSE (fs::exists (folder / "n.pdf"));
    CHECK (readFile (book) == before);

    // Another film is not taken for it.
    const auto other = folder / "other.mp4";
    makeFilm (other, 31);
    refused ({ "relink", book, other }, 3, "other.mp4");
    refused ({ "relink", book, folder / "none.mp4" }, 3, "none.mp4");
    CHECK (readFile (book) == before);
    must ({ "relink", book, moved });
    must ({ "export", book, "notes", "-o", folder / "n.pdf" });
    CHECK (fs::exists (folder / "n.pdf"));
    refused ({ "relink", book, moved }, 2, "no film of it is missing");

    // Book and film moved together stay together.
    fs::create_directory (folder / "new home");
    fs::rename (book, folder / "new home/b.shutterbeat");
    fs::rename (moved, folder / "new home/elsewhere.mp4");
    must ({ "still", folder / "new home/b.shutterbeat", "0", "-o", folder / "x.png" });
    fs::rename (folder / "new home", folder / "newer home");
    must ({ "still", folder / "newer home/b.shutterbeat", "0", "-o", folder / "x.png" });
}

TEST_CASE ("A film replaced by another of the same name is noticed")
{
    Folder folder;
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 30);
    must ({ "new", book, film, "--running", "18" });
    refused ({ "relink", book, film }, 2, "no film of it is missing");
    makeFilm (film, 30, 24, "-vf negate");
    CHECK (must ({ "times", book }).err.find ("has changed since") != std::string::npos);
    // The same length, pointed at by a person: it is taken.
    must ({ "relink", book, film });
    CHECK (must ({ "times", book }).err.find ("has changed since") == std::string::npos);
}

TEST_CASE ("Every command has help with an example and the right status")
{
    for (const std::string verb : { "new", "scan", "still", "hits", "cues", "times", "export", "relink" })
    {
        const auto ran = run ({ verb, "--help" });
        CHECK (ran.status == 0);
        CHECK (ran.out.find ("Example: shutterbeat " + verb) != std::string::npos);
    }
    for (const std::string part : { "list", "add", "set", "remove" })
    {
        CHECK (run ({ "hits", "b", part, "--help" }).out.find ("Example: ") != std::string::npos);
        CHECK (run ({ "cues", "b", part, "--help" }).out.find ("Example: ") != std::string::npos);
    }
    CHECK (run ({ "--help" }).out.find ("Exit status") != std::string::npos);
    const auto version = run ({ "--version" });
    CHECK (version.status == 0);
    CHECK (version.out.rfind ("shutterbeat 0.", 0) == 0);
}
