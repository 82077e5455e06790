#include "Bench.h"

#include "reading/CardReader.h"

#include <algorithm>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
bool hasEnglish()
{
    const auto all = reading::installedLanguages();
    return std::find (all.begin(), all.end(), "eng") != all.end();
}

/// A pattern, a card and the pattern again, 60 pictures each, with what the card says.
void makeCardFilm (const std::string& path, const std::string& wording, const std::string& folder)
{
    writeFile (folder + "/wording.txt", wording);
    const std::string source = "=size=320x240:rate=24:duration=2.5";
    const std::string command =
        "ffmpeg -v error -y -f lavfi -i testsrc2" + source + " -f lavfi -i color=black:size=320x240:rate=24:duration=2.5"
        + " -f lavfi -i mandelbrot=size=320x240:rate=24 -filter_complex \"[1]drawtext=font='EB Garamond':textfile='" + folder
        + "/wording.txt':fontsize=24:fontcolor=white:x=(w-tw)/2:y=(h-th)/2[b];"
          "[2]trim=end_frame=60,setpts=PTS-STARTPTS[c];[0][b][c]concat=n=3\" -pix_fmt yuv420p '"
        + path + "'";
    REQUIRE (std::system (command.c_str()) == 0);
}
} // namespace

TEST_CASE ("Cards are read, listed, corrected and removed on the command line")
{
    if (! hasEnglish())
    {
        WARN ("skipped: tesseract-ocr-eng is not installed");
        return;
    }
    Folder folder;
    const auto film = folder / "f.mkv", book = folder / "b.shutterbeat";
    makeCardFilm (film, "Meanwhile Rosa flies", folder.path.string());
    must ({ "new", book, film, "--running", "18", "--final", "24" });
    auto cards = must ({ "cards", book, "--json" }).json();
    REQUIRE (cards.size() == 1);
    CHECK (cards[0]["wording"] == "");
    CHECK (must ({ "cards", book }).err.find ("have no wording") != std::string::npos);
    must ({ "hits", book, "add", "--proposed" });

    const auto read = must ({ "cards", book, "read", "--language", "eng", "--json" });
    CHECK (read.json()["taken"] == 1);
    CHECK (read.err.find ("reading cards 100 %") != std::string::npos);
    cards = must ({ "cards", book, "list", "--json" }).json();
    CHECK (cards[0]["wording"] == "Meanwhile Rosa flies");
    CHECK (cards[0]["doubtful"] == false);
    CHECK (cards[0]["words"] == 3);
    CHECK (cards[0]["film_frames"] == 60);
    CHECK (cards[0]["seconds"] == "3.33");
    CHECK (cards[0]["feet"] == "3.75");
    CHECK (cards[0]["readable"][0]["rule"] == "a foot a word");
    CHECK (cards[0]["readable"][0]["enough"] == true);
    CHECK (cards[0]["wordings"][0]["language"] == "eng");
    const auto table = must ({ "cards", book });
    CHECK (table.out.find ("Meanwhile Rosa flies") != std::string::npos);
    CHECK (table.out.find ("read aloud twice") != std::string::npos);

    // The proposed hit has it as its label now, and a cue that ends there plays until it.
    bool labelled = false;
    for (const auto& hit : must ({ "hits", book, "list", "--json" }).json())
        labelled = labelled || hit["label"] == "Meanwhile Rosa flies";
    CHECK (labelled);
    must ({ "cues", book, "add", "--in", "film:0", "--out", "edge:2.head+0", "--number", "1M1" });
    CHECK (must ({ "cues", book, "list", "--json" }).json()[0]["until"] == "Meanwhile Rosa flies");

    must ({ "cards", book, "set", "2", "--wording", "Rosa flies, meanwhile" });
    must ({ "cards", book, "read", "--language", "eng" });
    cards = must ({ "cards", book, "--json" }).json();
    CHECK (cards[0]["wording"] == "Rosa flies, meanwhile");
    CHECK (cards[0]["by_hand"] == true);
    must ({ "cards", book, "set", "2", "--wording", "Imens flyver Rosa", "--language", "dan", "--beside" });
    REQUIRE (must ({ "cards", book, "--json" }).json()[0]["wordings"].size() == 3);
    must ({ "cards", book, "set", "2", "--choose", "3" });
    CHECK (must ({ "cards", book, "--json" }).json()[0]["wording"] == "Imens flyver Rosa");
    must ({ "cards", book, "remove", "2", "--number", "1" });
    must ({ "cards", book, "remove", "2" });
    CHECK (must ({ "cards", book, "--json" }).json()[0]["wordings"].empty());

    const auto before = readFile (book);
    for (const auto& wrong : std::vector<std::vector<std::string>>{ { "set", "1", "--wording", "no card" },
                                                                    { "set", "2" },
                                                                    { "set", "2", "--choose", "7" },
                                                                    { "set", "99", "--wording", "x" },
                                                                    { "read", "--print", "nobody" },
                                                                    { "read", "1" },
                                                                    { "remove", "2", "--number", "5" } })
    {
        std::vector<std::string> words{ "cards", book };
        words.insert (words.end(), wrong.begin(), wrong.end());
        const auto ran = run (words);
        INFO (wrong[0] << ": " << ran.err);
        CHECK (ran.status == 2);
        CHECK (ran.err.rfind ("error: ", 0) != std::string::npos);
    }
    const auto noData = run ({ "cards", book, "read", "--language", "xxq" });
    CHECK (noData.status == 3);
    CHECK (noData.err.find ("tesseract-ocr-xxq") != std::string::npos);
    CHECK (readFile (book) == before);
}

TEST_CASE ("The cards of another print are read beside those of the edition")
{
    if (! hasEnglish())
        return;
    Folder folder;
    const auto film = folder / "f.mkv", other = folder / "g.mkv", book = folder / "b.shutterbeat";
    makeCardFilm (film, "Meanwhile Rosa flies", folder.path.string());
    makeCardFilm (other, "Meanwhile Rosa flies away", folder.path.string());
    must ({ "new", book, film, "--running", "18", "--final", "24" });
    must ({ "prints", book, "add", "Second print", other });
    must ({ "cards", book, "read", "--language", "eng" });
    must ({ "cards", book, "read", "--print", "Second print", "--language", "eng" });
    const auto card = must ({ "cards", book, "--json" }).json()[0];
    CHECK (card["wording"] == "Meanwhile Rosa flies");
    REQUIRE (card["wordings"].size() == 2);
    CHECK (card["wordings"][1]["text"] == "Meanwhile Rosa flies away");
    CHECK (card["wordings"][1]["print"] != card["wordings"][0]["print"]);
}

TEST_CASE ("Speeds are listed, shown and accepted on the command line")
{
    Folder folder;
    const auto film = folder / "f.mkv", book = folder / "b.shutterbeat";
    makeFilm (film, 240);
    must ({ "new", book, film, "--running", "20", "--final", "24" });
    must ({ "hits", book, "add", "--at", "film:120", "--label", "half way" });
    const auto speeds = must ({ "speeds", book, "--json" }).json();
    bool found = false;
    for (const auto& row : speeds["speeds"])
        if (row["film_frames_a_second"] == "16")
        {
            found = true;
            CHECK (row["feet_a_minute"] == "60.00");
            CHECK (row["length"] == "0:15.00");
            CHECK (row["archive_rate"] == true);
        }
    CHECK (found);
    CHECK (must ({ "speeds", book }).out.find ("min/1000 ft") != std::string::npos);

    const auto before = readFile (book);
    const auto shown = run ({ "speeds", book, "set", "80ft/min", "--json" });
    CHECK (shown.status == 1);
    CHECK (shown.json()["accepted"] == false);
    CHECK (shown.json()["length_after"] == "0:11.25");
    CHECK (shown.json()["hits"][0]["clock_after"] == "5.63");
    CHECK (readFile (book) == before);
    must ({ "speeds", book, "set", "16", "--accept" });
    CHECK (must ({ "hits", book, "list", "--json" }).json()[0]["clock"] == "7.50");
    must ({ "speeds", book, "set", "200/11", "--scene", "1", "--accept" });
    CHECK (must ({ "speeds", book, "--json" }).json()["along"][0]["film_frames_a_second"] == "200/11");
    must ({ "speeds", book, "set", "edition", "--scene", "1", "--accept" });

    // From 24 to 25 it is asked which fill is meant.
    const auto asked = run ({ "speeds", book, "final", "25", "--accept" });
    CHECK (asked.status == 2);
    CHECK (asked.err.find ("from:24") != std::string::npos);
    const auto fast = must ({ "speeds", book, "final", "25", "--fill", "from:24", "--accept", "--json" }).json();
    CHECK (fast["pitch_cents"] == "+70.67");
    CHECK (fast["factor"] == "24/25");
    CHECK (must ({ "hits", book, "list", "--json" }).json()[0]["clock"] == "7.20");
    CHECK (run ({ "speeds", book, "set", "edition" }).status == 2);
    CHECK (run ({ "speeds", book, "set", "999" }).status == 2);
    CHECK (run ({ "speeds", book, "final" }).status == 2);
}
