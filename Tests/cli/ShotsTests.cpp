#include "Bench.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
/// Three pictures of noise-free stripes one after another: cuts at 60 and 120 of 180.
void makeCuts (const std::string& path, const std::string& second = "smptebars")
{
    const std::string source = "=size=160x120:rate=24:duration=2.5";
    const std::string command = "ffmpeg -v error -y -f lavfi -i testsrc" + source + " -f lavfi -i " + second + source
                                + " -f lavfi -i mandelbrot=size=160x120:rate=24 -filter_complex "
                                  "'[2]trim=end_frame=60,setpts=PTS-STARTPTS[c];[0][1][c]concat=n=3' -pix_fmt yuv420p '"
                                + path + "'";
    REQUIRE (std::system (command.c_str()) == 0);
}
} // namespace

TEST_CASE ("Shots are cut, joined, moved and named on the command line, and a new scan leaves them alone")
{
    Folder folder;
    const auto film = folder / "f.mkv", book = folder / "b.shutterbeat";
    makeCuts (film);
    must ({ "new", book, film, "--running", "18", "--final", "24" });
    auto shots = must ({ "shots", book, "--json" }).json();
    REQUIRE (shots.size() == 3);
    CHECK (shots[1]["film_frame"] == 60);
    CHECK (shots[2]["delivered_frame"] == 160);
    CHECK (shots[1]["locked"] == false);

    must ({ "hits", book, "add", "--at", "film:90", "--label", "in the middle" });
    must ({ "hits", book, "add", "--at", "edge:3.head+0", "--label", "on the cut" });
    must ({ "shots", book, "split", "--at", "film:75", "--person", "anna" });
    must ({ "shots", book, "move", "3", "--by", "-2" });
    must ({ "shots", book, "set", "1", "--kind", "card", "--wording", "Meanwhile", "--speed", "16" });
    shots = must ({ "shots", book, "--json" }).json();
    REQUIRE (shots.size() == 4);
    CHECK (shots[2]["film_frame"] == 75);
    CHECK (shots[2]["id"] == "anna-1");
    CHECK (shots[3]["film_frame"] == 118);
    CHECK (shots[0]["kind"] == "card");
    CHECK (shots[0]["running_speed"] == "16");
    CHECK (shots[0]["making"] == "");
    const auto unsaid = readFile (book);
    must ({ "shots", book, "set", "1", "--remade", "--reason", "the old card misses a line" });
    shots = must ({ "shots", book, "--json" }).json();
    CHECK (shots[0]["making"] == "remade");
    CHECK (shots[0]["reason"] == "the old card misses a line");
    CHECK (must ({ "shots", book }).out.find ("the old card misses a line") != std::string::npos);
    must ({ "export", book, "source-list", "-o", folder / "sources.pdf" });
    REQUIRE (std::system (("pdftotext -layout '" + folder / "sources.pdf" + "' '" + folder / "sources.txt" + "'").c_str()) == 0);
    CHECK (readFile (folder / "sources.txt").find ("the old card misses a line") != std::string::npos);
    must ({ "shots", book, "set", "1", "--not-remade", "--reason", "" });
    CHECK (readFile (book) == unsaid); // a book in which nobody says so has no such members
    shots = must ({ "shots", book, "--json" }).json();
    const auto hits = must ({ "hits", book, "list", "--json" }).json();
    CHECK (hits[0]["film_frame"] == 90);
    CHECK (hits[1]["film_frame"] == 118);

    const auto said = must ({ "shots", book, "scan" });
    CHECK (said.err.find ("locked shots were left") != std::string::npos);
    CHECK (must ({ "shots", book, "--json" }).json() == shots);
    must ({ "shots", book, "join", "anna-1" });
    CHECK (must ({ "shots", book, "--json" }).json().size() == 3);
    CHECK (must ({ "shots", book }).out.find ("Meanwhile") != std::string::npos);

    const auto before = readFile (book);
    for (const auto& wrong : std::vector<std::vector<std::string>>{ { "split", "--at", "film:118" },
                                                                    { "split", "--at", "film:999" },
                                                                    { "join", "1" },
                                                                    { "join", "nothing" },
                                                                    { "move", "3", "--by", "500" },
                                                                    { "set", "1", "--kind", "song" },
                                                                    { "set", "1", "--speed", "0" },
                                                                    { "scan", "--print", "nothing" } })
    {
        std::vector<std::string> words{ "shots", book };
        words.insert (words.end(), wrong.begin(), wrong.end());
        const auto ran = run (words);
        INFO (wrong[0] << " " << wrong[1]);
        CHECK (ran.status == 2);
        CHECK (ran.err.find ("error: ") == 0);
        CHECK (readFile (book) == before);
    }
}

TEST_CASE ("A second print is scanned, kept in the book and used by no edition yet")
{
    Folder folder;
    const auto film = folder / "f.mkv", other = folder / "g.mkv", book = folder / "b.shutterbeat";
    makeCuts (film);
    makeCuts (other, "rgbtestsrc");
    must ({ "new", book, film, "--running", "18", "--final", "24" });
    CHECK (must ({ "prints", book, "add", "Second print", other, "--gauge", "16 mm", "--json" }).json()["added"][0] == "print-2");
    const auto prints = must ({ "prints", book, "--json" }).json();
    REQUIRE (prints.size() == 2);
    CHECK (prints[1]["gauge"] == "16 mm");
    CHECK (prints[1]["film_frames"] == 180);
    CHECK (prints[1]["scanned_shots"] == 3);
    CHECK (prints[0]["editions"] == nlohmann::json{ "A" });
    CHECK (prints[1]["editions"].empty());
    CHECK (must ({ "shots", book, "scan", "--print", "Second print" }).err.find ("0 new") != std::string::npos);
    const auto before = readFile (book);
    CHECK (run ({ "prints", book, "add", "Second print", film }).status == 2);
    CHECK (run ({ "prints", book, "add", "Third print", other }).status == 2);
    CHECK (run ({ "prints", book, "add", "Third print", folder / "none.mkv" }).status == 3);
    CHECK (readFile (book) == before);
}
