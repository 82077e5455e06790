#include "Bench.h"

#include "time/Timecode.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
/// A book on 300 film frames at 18, final 24 (400 delivered frames), with cues and hits of Anna's, and Ida to whom it goes.
std::string webPageBook (const Folder& folder)
{
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 300);
    must ({ "new", book, film, "--running", "18", "--final", "24", "--start", "01:00:00:00" });
    const std::vector<std::string> anna{ "--person", "anna" };
    const auto add = [&] (std::vector<std::string> words)
    {
        words.insert (words.end(), anna.begin(), anna.end());
        must (words);
    };
    add ({ "cues", book, "add", "--number", "1M1", "--title", "Køkkenet", "--mood", "busy, warm", "--in", "film:9", "--out",
           "film:150" });
    add ({ "cues", book, "add", "--number", "1M2", "--title", "The Runaway Cart", "--in", "film:150", "--out", "end" });
    add ({ "hits", book, "add", "--at", "film:30", "--label", "The “cake” lands", "--kind", "gag", "--weight", "must", "--cue",
           "1M1" });
    add ({ "hits", book, "add", "--at", "film:60", "--label", "</script><b>Ladder</b>", "--kind", "action", "--cue", "1M1",
           "--note", "Is this too soon after the cake?" });
    add ({ "hits", book, "add", "--at", "film:100", "--label", "Meanwhile, at the harbour …", "--kind", "card", "--weight", "may",
           "--cue", "1M1" });
    add ({ "hits", book, "add", "--at", "film:200", "--label", "The cart gets loose", "--kind", "cut", "--weight", "must", "--cue",
           "1M2" });
    add ({ "hits", book, "add", "--at", "film:260", "--label", "She laughs", "--kind", "mood" });
    must ({ "hits", book, "set", "anna-6", "--agreed" });
    return book;
}

/// Delivered frame of a film frame at 18 for 24.
std::int64_t at24 (std::int64_t film)
{
    return (film * 4 + 2) / 3;
}
} // namespace

TEST_CASE ("The web page in a browser: step, jump, click, answer, add, save: the file merges like another copy of the book")
{
    if (std::system ("chromedriver --version >/dev/null 2>&1 && node --version >/dev/null 2>&1") != 0)
    {
        FAIL ("chromedriver or node is missing; Tests/packages names them");
        return;
    }
    Folder folder;
    const auto book = webPageBook (folder), movie = folder / "the movie.mp4", page = folder / "page.html";
    must ({ "render", book, "-o", movie, "--size", "320x240", "--show", "none", "--preset", "ultrafast", "--leader", "5" });
    must ({ "page", book, movie, "-o", page, "--for", "ida", "--stamped", "2026-05-01" });
    const auto html = readFile (page);
    CHECK (html.find ("http://www.w3.org/2000/svg") != std::string::npos);
    CHECK (html.find ("</script><b>") == std::string::npos);
    fs::create_directory (folder / "browser");
    const auto command = "node '" + std::string (SHUTTERBEAT_SOURCE_DIR) + "/Tests/cli/webpage.mjs' '" + page + "' '"
                         + (folder / "browser") + "' 24 > '" + (folder / "saw.json") + "' 2> '" + (folder / "log") + "'";
    const bool ran = std::system (command.c_str()) == 0;
    INFO (readFile (folder / "log"));
    REQUIRE (ran);
    const auto saw = nlohmann::json::parse (readFile (folder / "saw.json"));
    if (const char* keep = std::getenv ("SHUTTERBEAT_KEEP_PAGE"))
        fs::copy (folder.path, keep, fs::copy_options::recursive | fs::copy_options::overwrite_existing);
    constexpr std::int64_t leader = 120;
    const auto isAt = [&] (const nlohmann::json& now, std::int64_t frame)
    {
        CHECK (now["frame"] == frame);
        CHECK (now["movie"] == frame + leader); // the picture's own time stamp
        CHECK (now["label"] == time::labelOf (86400 + frame, { time::Rational (24), false }).text);
    };
    const std::vector<std::int64_t> steps{ 1, 2, 3, 4, 5, 4 }, jumps{ 377, 12, 199, 200, 31, 399, 0, 250 };
    for (std::size_t i = 0; i < steps.size(); ++i)
        isAt (saw["stepped"][i], steps[i]);
    for (std::size_t i = 0; i < jumps.size(); ++i)
        isAt (saw["jumped"][i], jumps[i]);
    isAt (saw["clicked"], at24 (30));
    isAt (saw["next"], at24 (60));
    isAt (saw["back"], at24 (30));
    CHECK (saw["stopped"]["movie"].get<std::int64_t>() == saw["stopped"]["frame"].get<std::int64_t>() + leader);
    CHECK (saw["tally"] == "5 things said");
    CHECK (saw["again"] == "5 things said");
    CHECK (saw["asked"].empty());
    CHECK (fs::file_size (folder / "browser/dim.png") > 20000);
    CHECK (fs::file_size (folder / "browser/day.png") > 20000);

    // Meanwhile the book went on: one of the answers meets a change here, the others don't.
    must ({ "hits", book, "set", "anna-5", "--weight", "should" });
    must ({ "hits", book, "set", "anna-3", "--label", "The cake lands on the mayor" });
    must ({ "hits", book, "add", "--at", "film:5", "--label", "door", "--person", "ida" });
    const auto reply = folder / ("browser/" + saw["saved"].get<std::string>());
    const auto dry = run ({ "import", book, "reply", reply, "--dry-run", "--json" });
    CHECK (dry.status == 1);
    const auto imported = run ({ "import", book, "reply", reply, "--json" });
    CHECK (imported.status == 1);
    REQUIRE (imported.json()["conflicts"].size() == 1);
    CHECK (imported.json()["conflicts"][0]["key"] == "anna-5.weight");
    CHECK (imported.json()["conflicts"][0]["theirs"] == "must");
    const auto times = must ({ "times", book, "--json" }).json();
    const auto hit = [&] (const std::string& label) -> nlohmann::json
    {
        for (const auto& one : times["hits"])
            if (one["label"] == label)
                return one;
        FAIL ("no hit " << label);
        return {};
    };
    CHECK (hit ("The cake lands on the mayor")["agreed"] == true);
    CHECK (hit ("Meanwhile, at the harbour …")["weight"] == "should");
    CHECK (hit ("</script><b>Ladder</b>")["agreed"] == false);
    CHECK (hit ("</script><b>Ladder</b>")["note"] == "Is this too soon after the cake?\nida: rather not. Too early for me");
    CHECK (hit ("Hat flies off")["delivered_frame"] == at24 (92));
    CHECK (hit ("Hat flies off")["id"] != hit ("door")["id"]);
    const auto raw = nlohmann::json::parse (readFile (book));
    CHECK (raw["cues"][0]["note"] == "ida: Slower?");
    // The same file once more changes nothing.
    const auto before = readFile (book);
    CHECK (run ({ "import", book, "reply", reply }).status == 1);
    CHECK (readFile (book) == before);
}

TEST_CASE ("A reply that is none, or of a newer page, or damaged in places, is told and never guessed")
{
    Folder folder;
    const auto book = webPageBook (folder), reply = folder / "r.shutterbeat-reply";
    const std::string head =
        R"({"document": "shutterbeat reply", "schema": 1, "title": "film", "edition": "A", "final_rate": "24", "fill": "true",)";
    for (const std::string text : { "", "{}", "[1", R"({"document": "shutterbeat reply", "schema": 2})" })
    {
        writeFile (reply, text);
        CHECK (run ({ "import", book, "reply", reply }).status == 3);
    }
    writeFile (reply, head + R"("hits": [{"id": "anna-3"}, 4, {"id": "anna-4", "sent": {"kind": "dance"}}],
      "added": [{"id": "ida-1", "frame": 99999999999999, "kind": "gag", "weight": "must"}, {"id": "ida-2", "kind": "gag", "weight": "must"}],
      "cues": [{"id": "anna-99", "words": "where is it?"}], "person": {"id": "ida", "name": "Ida", "last_number": 2}})");
    const auto ran = run ({ "import", book, "reply", reply, "--json" });
    CHECK (ran.status == 1);
    CHECK (ran.json()["bad"].size() == 6);
    CHECK (must ({ "times", book, "--json" }).json()["hits"].size() == 5);
}
