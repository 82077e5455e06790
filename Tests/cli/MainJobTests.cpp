#include "Bench.h"

#include "exchange/CmxComments.h"
#include "exchange/CsvList.h"
#include "exchange/MidiRead.h"
#include "time/Timecode.h"

#include <map>
#include <set>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
/// A book on a one-to-one film of 300 frames at 18, with two cues and hits on many frames.
std::string mainJobBook (const Folder& folder)
{
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 300);
    must ({ "new", book, film, "--running", "18", "--final", "24", "--start", "00:59:50:00" });
    must ({ "cues", book, "add", "--number", "1M1", "--title", "Køkkenet", "--in", "film:0", "--out", "film:150", "--tempo",
            "97.3" });
    must ({ "cues", book, "add", "--number", "1M2", "--in", "film:150", "--out", "end", "--tempo", "131.07" });
    for (int k : { 0, 1, 17, 100, 149, 150, 151, 200, 271, 299 })
        must ({ "hits", book, "add", "--at", "film:" + std::to_string (k), "--label", "frame " + std::to_string (k), "--cue",
                k < 150 ? "1M1" : "1M2" });
    return book;
}

/// Film frame to its delivered frame, as `times --json` says.
std::map<std::int64_t, std::int64_t> deliveredOf (const nlohmann::json& times)
{
    std::map<std::int64_t, std::int64_t> all;
    for (const auto& hit : times["hits"])
        all[hit["film_frame"].get<std::int64_t>()] = hit["delivered_frame"].get<std::int64_t>();
    return all;
}
} // namespace

TEST_CASE ("WORKED B: a one-to-one scan at 18 for 24 true puts film frame 100 on delivered 134, whatever the file's rate")
{
    Folder folder;
    const auto book = mainJobBook (folder);
    const auto times = must ({ "times", book, "--json" }).json();
    CHECK (times["final_rate"] == "24");
    CHECK (times["rate"] == "24/1");
    CHECK (times["fill"] == "true");
    for (const auto& [film, delivered] : deliveredOf (times))
        CHECK (delivered == (film * 4 + 2) / 3);
    const auto& hit = times["hits"][3];
    CHECK (hit["film_frame"] == 100);
    CHECK (hit["file_frame"] == 100);
    CHECK (hit["delivered_frame"] == 134);
    CHECK (hit["timecode"] == "00:59:55:14");
    CHECK (hit["clock"] == "5.58");
    CHECK (hit["clock_exact"] == "67/12");
    CHECK (hit["feet"] == "6+04");
    const auto& cue = times["cues"][1];
    CHECK (cue["number"] == "1M2");
    CHECK (cue["in"]["delivered_frame"] == 200);
    CHECK (cue["out"]["delivered_frame"] == 400);
    CHECK (cue["hits"][1]["from_start"] == "0.08");
}

TEST_CASE ("Changing running speed, fill or final rate changes every time and no place")
{
    Folder folder;
    const auto book = mainJobBook (folder);
    const auto before = readFile (book);
    const auto usual = must ({ "times", book, "--json" }).json();
    std::set<std::string> seen;
    for (const std::vector<std::string>& more : std::vector<std::vector<std::string>>{ {},
                                                                                       { "--running", "20" },
                                                                                       { "--running", "200/11" },
                                                                                       { "--final", "25" },
                                                                                       { "--final", "25", "--fill", "from:24" },
                                                                                       { "--final", "29.97df" },
                                                                                       { "--final", "29.97df", "--fill", "true" },
                                                                                       { "--final", "59.94" } })
    {
        std::vector<std::string> words{ "times", book, "--json" };
        words.insert (words.end(), more.begin(), more.end());
        const auto times = must (words).json();
        CHECK (seen.insert (times["hits"].back()["clock_exact"].get<std::string>()).second);
        for (std::size_t i = 0; i < usual["hits"].size(); ++i)
        {
            CHECK (times["hits"][i]["place"] == usual["hits"][i]["place"]);
            CHECK (times["hits"][i]["film_frame"] == usual["hits"][i]["film_frame"]);
        }
    }
    CHECK (readFile (book) == before);
}

TEST_CASE ("Every list of one book places every hit on the same delivered frame, at every rate and both fills")
{
    Folder folder;
    const auto book = mainJobBook (folder);
    struct Wish
    {
        std::string rate, fill;
    };
    for (const auto& wish : { Wish{ "23.976", "from:24" }, Wish{ "23.976", "true" }, Wish{ "24", "true" }, Wish{ "25", "true" },
                              Wish{ "25", "from:24" }, Wish{ "29.97", "from:30" }, Wish{ "29.97df", "from:30" },
                              Wish{ "29.97df", "true" }, Wish{ "30", "true" }, Wish{ "59.94df", "from:60" } })
    {
        INFO (wish.rate << " " << wish.fill);
        const auto out = folder / (wish.rate + wish.fill);
        const auto times = must ({ "times", book, "--json", "--final", wish.rate, "--fill", wish.fill }).json();
        must ({ "export", book, "--all", out, "--final", wish.rate, "--fill", wish.fill, "--stamped", "2026-05-01" });
        const auto delivered = deliveredOf (times);
        const auto rate = time::parseRate (wish.rate)->value;
        const auto start = time::parseLabel (times["reels"][0]["start_timecode"].get<std::string>(), rate)->value;

        const auto csv = exchange::readHitList (readFile (out + "/hits.csv"));
        REQUIRE (csv.ok());
        CHECK (csv->bad.empty());
        REQUIRE (csv->hits.size() == delivered.size());
        for (const auto& hit : csv->hits)
        {
            CHECK (hit.deliveredFrame == delivered.at (*hit.filmFrame));
            CHECK (time::parseLabel (hit.timecode, rate)->value - start == *hit.deliveredFrame);
            CHECK (*hit.clockExact == Rational (*hit.deliveredFrame) / rate.perSecond);
        }
        const auto cmx = exchange::readCmxComments (readFile (out + "/hits.edl"), rate);
        REQUIRE (cmx.ok());
        REQUIRE (cmx->hits.size() == delivered.size());
        for (const auto& hit : cmx->hits)
        {
            const auto film = std::stoll (hit.text.substr (hit.text.rfind (' ') + 1));
            CHECK (hit.count - start == delivered.at (film));
        }
        const auto midi = exchange::readMidiFile (readFile (out + "/markers.mid"));
        REQUIRE (midi.ok());
        REQUIRE (midi->cuePoints.size() == delivered.size());
        for (const auto& point : midi->cuePoints)
        {
            const auto film = std::stoll (point.text.substr (point.text.rfind (' ') + 1));
            // A tick is far shorter than a frame: the nearest frame is the frame.
            CHECK (time::roundOf (point.seconds * rate.perSecond) == delivered.at (film));
        }
    }
}

TEST_CASE ("The same book gives the same bytes again, in any locale (CASES B42)")
{
    Folder folder;
    const auto book = mainJobBook (folder);
    // Locales of our own making, so that none has to be installed.
    const auto locales = folder / "locales";
    fs::create_directory (locales);
    std::vector<std::string> names{ "C" };
    for (const std::string name : { "da_DK", "de_DE" })
        if (std::system (("localedef -i " + name + " -f UTF-8 '" + locales + "/" + name + ".UTF-8' 2>/dev/null").c_str()) == 0)
            names.push_back (name + ".UTF-8");
    if (names.size() < 3)
        WARN ("localedef made no Danish or German locale here; only the locales " << names.size() << " were compared");
    std::map<std::string, std::string> first;
    for (const auto& name : names)
    {
        const auto out = folder / ("out-" + name);
        const std::string command = "LOCPATH='" + locales + "' LC_ALL=" + name + " '" + std::string (SHUTTERBEAT_BINARY_DIR)
                                    + "/shutterbeat' export '" + book + "' --all '" + out
                                    + "' --final 29.97df --stamped 2026-05-01 >/dev/null 2>&1";
        REQUIRE (std::system (command.c_str()) == 0);
        const std::string again = "LOCPATH='" + locales + "' LC_ALL=" + name + " '" + std::string (SHUTTERBEAT_BINARY_DIR)
                                  + "/shutterbeat' hits '" + book + "' set me-3 --lead 1/3 >/dev/null 2>&1";
        REQUIRE (std::system (again.c_str()) == 0);
        int files = 0;
        for (const auto& entry : fs::directory_iterator (out))
        {
            const auto file = entry.path().filename().string();
            INFO (name << " " << file);
            const auto bytes = readFile (entry.path().string());
            CHECK ((bytes.size() > 10 || file == "cards.srt")); // this film has no cards
            CHECK (first.emplace (file, bytes).first->second == bytes);
            ++files;
        }
        CHECK (files >= 20);
        CHECK (first.emplace ("book", readFile (book)).first->second == readFile (book));
        // Back to how it was, so that the next locale starts from the same book.
        must ({ "hits", book, "set", "me-3", "--lead", "0" });
    }
}

TEST_CASE ("Two reels in order are one print, and a typed timecode on a repeat is kept as typed")
{
    Folder folder;
    const auto one = folder / "1.mp4", two = folder / "2.mp4", book = folder / "b.shutterbeat";
    makeFilm (one, 60);
    makeFilm (two, 40, 24, "-vf negate");
    must ({ "new", book, one, two, "--running", "18", "--final", "24" });
    must ({ "hits", book, "add", "--at", "film:70" });
    auto hit = must ({ "times", book, "--json" }).json()["hits"][0];
    CHECK (hit["source_frame"] == 70);
    CHECK (hit["file"] == 2);
    CHECK (hit["file_frame"] == 10);
    must ({ "hits", book, "remove", "me-1" });
    // At 18 for 24 delivered frames 0 and 1 both show film frame 0 and 3 is the first to show film frame 2.
    must ({ "hits", book, "add", "--at", "tc:01:00:00:01" });
    hit = must ({ "times", book, "--json" }).json()["hits"][0];
    CHECK (hit["film_frame"] == 0);
    CHECK (hit["timecode"] == "01:00:00:00");
    CHECK (hit["typed"] == "01:00:00:01");
}

TEST_CASE ("Running speed below the file's repeats: film frame 1000 of a padded file (WORKED B)")
{
    const auto demo = demoFolder();
    if (demo.empty())
    {
        WARN ("skipped: the demo film has not been made (demo/run makes it)");
        return;
    }
    Folder folder;
    const auto book = folder / "b.shutterbeat";
    must ({ "new", book, demo + "/edition-a.mp4" });
    must ({ "hits", book, "add", "--at", "film:1000" });
    CHECK (must ({ "times", book, "--json", "--final", "25", "--running", "20" }).json()["hits"][0]["delivered_frame"] == 1250);
    CHECK (must ({ "times", book, "--json", "--final", "25", "--running", "18" }).json()["hits"][0]["delivered_frame"] == 1389);
}

TEST_CASE ("The demo film, both editions: every cut to the frame, every card, every film frame behind the repeats")
{
    const auto demo = demoFolder();
    if (demo.empty())
    {
        WARN ("skipped: the demo film has not been made (demo/run makes it)");
        return;
    }
    const auto truth = nlohmann::json::parse (readFile (demo + "/truth.json"));
    for (const std::string letter : { "a", "b" })
    {
        const auto& edition = truth["editions"][letter];
        const auto scan = must ({ "scan", demo + "/edition-" + letter + ".mp4", "--json" }).json();
        INFO ("edition " << letter);
        CHECK (scan["frames"] == edition["file_frames"]);
        CHECK (scan["film_frames"] == edition["film_frames"]);
        CHECK (scan["rate"] == "25/1");
        CHECK (scan["padded_for"] == "20");
        CHECK (scan["start_timecode"] == "01:00:00:00");
        // Where one shot turns into black over a fade there is no cut to be to the frame.
        std::set<std::int64_t> cuts, free;
        std::map<std::int64_t, std::string> kinds;
        const auto& shots = edition["shots"];
        for (std::size_t i = 0; i < shots.size(); ++i)
        {
            const auto first = shots[i]["first_file"].get<std::int64_t>();
            kinds[first] = shots[i]["kind"].get<std::string>();
            if (shots[i]["transition"] == "fade")
                free.insert (first);
            else
                cuts.insert (first);
        }
        std::set<std::int64_t> found;
        for (const auto& shot : scan["shots"])
        {
            const auto first = shot["first"].get<std::int64_t>();
            // The last steps of a fade are as dark as the black it ends in: its end is told within a few frames only.
            const bool neutral = std::any_of (free.begin(), free.end(), [&] (std::int64_t f) { return std::abs (f - first) <= 6; });
            if (cuts.count (first) == 0 && ! neutral)
                FAIL_CHECK ("no cut at file frame " << first);
            found.insert (first);
            if (kinds.count (first) > 0)
            {
                INFO ("file frame " << first);
                CHECK (shot["kind"] == kinds[first]);
            }
        }
        for (const auto cut : cuts)
            if (found.count (cut) == 0)
                FAIL_CHECK ("the cut at file frame " << cut << " was missed");
    }
}
