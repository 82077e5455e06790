#include "Bench.h"

#include <algorithm>
#include <map>
#include <set>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using Json = nlohmann::json;

namespace
{
/// A row of the change list by its shot's name in the truth of either edition: by where it begins.
std::map<std::int64_t, std::string> namesByFirst (const Json& truth, const char* edition)
{
    std::map<std::int64_t, std::string> names;
    for (const auto& shot : truth["editions"][edition]["shots"])
        names[shot["first_film"].get<std::int64_t>()] = shot["name"].get<std::string>();
    return names;
}

std::string whatOf (const Json& row)
{
    std::string text;
    for (const auto& word : row["what"])
        text += (text.empty() ? "" : ", ") + word.get<std::string>();
    return text;
}

/// A book of the demo's first edition with two hits.
std::string demoBook (const Folder& folder, const std::string& demo)
{
    const auto book = folder / "film.shutterbeat";
    must ({ "new", book, demo + "/edition-a.mp4" });
    must ({ "hits", book, "add", "--at", "film:1120", "--label", "the helmet" });
    must ({ "hits", book, "add", "--at", "film:1270", "--label", "the dog runs" });
    return book;
}
} // namespace

TEST_CASE ("The demo's second edition: every frame of every kept shot in its place, every change named, every hit carried")
{
    const auto demo = demoFolder();
    if (demo.empty())
    {
        WARN ("the demo film is not there: recut not tried on it");
        return;
    }
    const auto truth = Json::parse (readFile (demo + "/truth.json"));
    Folder folder;
    const auto book = demoBook (folder, demo);
    must ({ "hits", book, "add", "--at", "film:1300", "--label", "the watch room" });
    // Said of the card that is going to be remade, and of a shot that goes over as it is.
    const auto idAt = [&] (std::int64_t frame)
    {
        for (const auto& shot : must ({ "shots", book, "--json" }).json())
            if (shot["film_frame"] == frame)
                return shot["id"].get<std::string>();
        return std::string();
    };
    std::map<std::string, std::int64_t> firsts;
    for (const auto& shot : truth["editions"]["a"]["shots"])
        firsts[shot["name"].get<std::string>()] = shot["first_film"].get<std::int64_t>();
    const auto card = idAt (firsts["card-seventy-today"]), sigh = idAt (firsts["keeper-sigh"]);
    REQUIRE ((! card.empty() && ! sigh.empty()));
    must ({ "shots", book, "set", card, "--reason", "the only card of that title" });
    must ({ "shots", book, "set", sigh, "--reason", "whole in this print only" });
    const auto ran = run ({ "recut", book, demo + "/edition-b.mp4", "--json", "--csv", folder / "changes.csv" });
    INFO (ran.err);
    REQUIRE (ran.status == 0);
    const auto made = ran.json();
    CHECK (made["before"] == "A");
    CHECK (made["after"] == "B");
    CHECK (made["pending"].empty());
    CHECK (made["old_film_frames"] == truth["editions"]["a"]["film_frames"]);
    CHECK (made["new_film_frames"] == truth["editions"]["b"]["film_frames"]);

    // Every film frame of every kept shot.
    std::vector<std::int64_t> origin (made["new_film_frames"].get<std::size_t>(), -1);
    for (const auto& change : made["runs"])
        if (change["old_first"].get<std::int64_t>() >= 0 && change["new_first"].get<std::int64_t>() >= 0)
            for (std::int64_t k = 0; k < change["frames"].get<std::int64_t>(); ++k)
                origin[static_cast<std::size_t> (change["new_first"].get<std::int64_t>() + k)] =
                    change["old_first"].get<std::int64_t>() + k;
    for (const auto& shot : truth["editions"]["b"]["shots"])
    {
        const bool isNew = shot["origin"] == "new";
        const auto name = shot["name"].get<std::string>();
        int wrong = 0;
        for (auto n = shot["first_film"].get<std::int64_t>(); n < shot["end_film"].get<std::int64_t>(); ++n)
        {
            const auto found = origin[static_cast<std::size_t> (n)];
            if (isNew || name == "card-seventy-today") // newly worded: none of its pictures is in the first edition
                wrong += found >= 0 ? 1 : 0;
            else
                wrong += found != shot["origin"]["first_film_in_a"].get<std::int64_t>() + n - shot["first_film"].get<std::int64_t>()
                             ? 1
                             : 0;
        }
        INFO (name);
        CHECK (wrong == 0);
    }

    // Every change by name.
    const auto oldNames = namesByFirst (truth, "a"), newNames = namesByFirst (truth, "b");
    std::map<std::string, std::string> said;
    for (const auto& row : made["shots"])
    {
        const bool there = row.contains ("new");
        const auto& names = there ? newNames : oldNames;
        // Where a fade ends in black is told within a few frames only.
        const auto first = row[there ? "new" : "old"]["first"].get<std::int64_t>();
        auto at = names.upper_bound (first);
        REQUIRE (at != names.begin());
        --at;
        INFO (at->second << " begins at " << at->first << ", told at " << first);
        REQUIRE (first - at->first <= (at->second == "black-after-fade" ? 6 : 0));
        said[at->second] = whatOf (row);
    }
    std::map<std::string, std::string> expected{ { "watch-room", "moved" },       { "keeper-sigh", "moved" },
                                                 { "card-not-a-crumb", "moved" }, { "card-seventy-today", "remade" },
                                                 { "chase", "kept, head -12" },   { "cat-on-sill", "new" },
                                                 { "dog-run", "cut out" } };
    for (const auto& [name, what] : said)
    {
        INFO (name);
        CHECK (what == (expected.count (name) > 0 ? expected[name] : "kept"));
    }
    for (const auto& [name, what] : expected)
        CHECK (said.count (name) == 1);
    CHECK (readFile (folder / "changes.csv").find ("remade,456,60,456,100,0") != std::string::npos);

    // Hits by their pictures: the helmet moved, the dog is gone, the watch room went forward.
    REQUIRE (made["hits"].size() == 3);
    CHECK (made["hits"][0]["place"]["new"]["film_frame"] == 1388);
    CHECK (made["hits"][1]["place"]["fate"] == "lost");
    CHECK (made["hits"][2]["place"]["moved_film_frames"] == 786 - 1284);

    // Reasons go along, and the card is known as remade without anybody saying so.
    int told = 0;
    for (const auto& shot : must ({ "shots", book, "--json" }).json())
        if (shot["id"] == card || shot["id"] == sigh)
        {
            ++told;
            CHECK (shot["making"] == (shot["id"] == card ? "remade" : ""));
            CHECK (shot["reason"] == (shot["id"] == card ? "the only card of that title" : "whole in this print only"));
        }
    CHECK (told == 2);
    const auto sources = must ({ "compare", book, "--editions", "A", "B", "--json" }).json()["sources"];
    REQUIRE (sources.size() == 2);
    CHECK (sources[0].get<std::string>().find ("is remade") != std::string::npos);
    CHECK (sources[1].get<std::string>().find ("shots are from print ") != std::string::npos);

    // The old edition stays; the book opens with the new one; asking again says the same.
    const auto again = run ({ "recut", book, "--json" });
    CHECK (again.status == 0);
    CHECK (again.json() == made);
    CHECK (must ({ "shots", book, "list", "--edition", "A", "--json" }).json().size() == truth["editions"]["a"]["shots"].size());
    CHECK (run ({ "recut", book, demo + "/edition-b.mp4" }).status == 2);

    // The report says the same on paper, and has its pictures.
    const auto report = folder / "recut.pdf", text = folder / "recut.txt";
    must ({ "export", book, "recut-report", "-o", report, "--stamped", "2026-05-01" });
    REQUIRE (std::system (("pdftotext -layout '" + report + "' '" + text + "'").c_str()) == 0);
    const auto words = readFile (text);
    for (const std::string line :
         { "Recut report", "edition A", "remade", "cut out", "the dog runs", "lost", "not there", "film frames earlier" })
    {
        INFO (line);
        CHECK (words.find (line) != std::string::npos);
    }
    CHECK (fs::file_size (report) > 100000);
    CHECK (run ({ "export", book, "recut-report", "-o", report, "--edition", "A" }).status == 2);

    // The prints themselves, shot by shot.
    const auto compared = must ({ "compare", book, "edition-a", "edition-b", "--json" }).json();
    int missing = 0;
    for (const auto& shot : compared["one"]["shots"])
        missing += shot["shared"] == 0 ? 1 : 0;
    CHECK (missing == 2); // the dog and the card in its first wording
    CHECK (compared["two"]["shots"].size() == truth["editions"]["b"]["shots"].size());
}

TEST_CASE ("A recut says what is wrong with what it was asked")
{
    Folder folder;
    const auto book = folder / "film.shutterbeat";
    makeFilm (folder / "film.mp4", 48);
    must ({ "new", book, folder / "film.mp4", "--running", "18" });
    const auto first = run ({ "recut", book });
    CHECK (first.status == 2);
    CHECK (first.err.find ("edition A") != std::string::npos);
    CHECK (run ({ "recut", book, folder / "absent.mp4" }).status == 3);
    CHECK (run ({ "recut", book, "--from", "Q", folder / "film.mp4" }).status == 2);
    writeFile (folder / "broken.json", "{ nothing");
    CHECK (run ({ "recut", book, "--decide", folder / "broken.json" }).status == 3);
    writeFile (folder / "other.json", R"({"decisions": [{"match": "B-1", "answer": "same"}]})");
    const auto unknown = run ({ "recut", book, "--decide", folder / "other.json" });
    CHECK (unknown.status == 2);
    CHECK (unknown.err.find ("B-1") != std::string::npos);
}

TEST_CASE ("The demo's second edition from lists and from a change list: the same pictures in the same places as its truth says")
{
    const auto demo = demoFolder();
    if (demo.empty())
    {
        WARN ("the demo film is not there: recut from lists not tried on it");
        return;
    }
    const auto truth = Json::parse (readFile (demo + "/truth.json"));
    Folder folder;
    const auto book = demoBook (folder, demo);
    must ({ "cues", book, "add", "--number", "1M1", "--in", "film:134", "--out", "film:1000", "--tempo", "100" });
    const auto label = [] (std::int64_t frame)
    {
        const auto part = [] (std::int64_t n) { return (n < 10 ? "0" : "") + std::to_string (n); };
        return part (frame / 24 / 3600) + ":" + part (frame / 24 / 60 % 60) + ":" + part (frame / 24 % 60) + ":"
               + part (frame % 24);
    };
    // A list counts film frames; the negative of edition A is one reel, what is new another.
    const auto listOf = [&] (const char* edition)
    {
        std::string text = "TITLE: DEMO\r\nFCM: NON-DROP FRAME\r\n";
        int number = 1;
        for (const auto& shot : truth["editions"][edition]["shots"])
        {
            const auto first = shot["first_film"].get<std::int64_t>(), end = shot["end_film"].get<std::int64_t>();
            const auto name = shot["name"].get<std::string>();
            const bool isNew = edition[0] == 'b' && (shot["origin"] == "new" || name == "card-seventy-today");
            const auto source = edition[0] == 'a' ? first
                                : isNew           ? 86400 + first
                                                  : shot["origin"]["first_film_in_a"].get<std::int64_t>();
            const auto event = std::to_string (number++);
            text += std::string (3 - event.size(), '0') + event + (isNew ? "  NEWREEL  " : "  NEGATIVE ") + "V     C        "
                    + label (source) + " " + label (source + end - first) + " " + label (86400 + first) + " " + label (86400 + end)
                    + "\r\n* FROM CLIP NAME: " + name + "\r\n";
        }
        return text;
    };
    writeFile (folder / "a.edl", listOf ("a"));
    writeFile (folder / "b.edl", listOf ("b"));
    const auto second = folder / "second.shutterbeat";
    fs::copy_file (book, second);
    const auto ran = run ({ "recut", book, "--old-list", folder / "a.edl", "--new-list", folder / "b.edl", "--rate", "24", "--json",
                            "--csv", folder / "changes.csv" });
    INFO (ran.err);
    REQUIRE (ran.status == 0);
    const auto made = ran.json();
    CHECK (made["old_film_frames"] == truth["editions"]["a"]["film_frames"]);
    CHECK (made["new_film_frames"] == truth["editions"]["b"]["film_frames"]);
    std::vector<std::int64_t> origin (made["new_film_frames"].get<std::size_t>(), -1);
    for (const auto& change : made["runs"])
        if (change["old_first"].get<std::int64_t>() >= 0 && change["new_first"].get<std::int64_t>() >= 0)
            for (std::int64_t k = 0; k < change["frames"].get<std::int64_t>(); ++k)
                origin[static_cast<std::size_t> (change["new_first"].get<std::int64_t>() + k)] =
                    change["old_first"].get<std::int64_t>() + k;
    int wrong = 0;
    for (const auto& shot : truth["editions"]["b"]["shots"])
    {
        const bool isNew = shot["origin"] == "new" || shot["name"] == "card-seventy-today";
        for (auto n = shot["first_film"].get<std::int64_t>(); n < shot["end_film"].get<std::int64_t>(); ++n)
            wrong += origin[static_cast<std::size_t> (n)]
                             == (isNew ? -1
                                       : shot["origin"]["first_film_in_a"].get<std::int64_t>() + n
                                             - shot["first_film"].get<std::int64_t>())
                         ? 0
                         : 1;
    }
    CHECK (wrong == 0);
    CHECK (made["hits"][0]["place"]["new"]["film_frame"] == 1388);
    CHECK (made["hits"][1]["place"]["fate"] == "lost");
    // The longer card is inside the cue, and what may be done about it is told, least change first.
    const auto& inside = made["cues"][0]["inside"];
    REQUIRE_FALSE (inside.empty());
    double cost = 0;
    for (const auto& way : inside[0]["remedies"]["ways"])
    {
        CHECK (way["cost"].get<double>() >= cost);
        cost = way["cost"].get<double>();
        if (way["kind"] == "cards")
            CHECK (way["cards"].size() >= 1);
        if (way["kind"] != "music")
            continue;
        // At 100 a minute beats, nudge and what is left over make up the change.
        const auto seconds = [] (const Json& json, const char* name)
        { return json.contains (name) ? time::toDouble (*time::parseRational (json[name].get<std::string>())) : 0.0; };
        const double nudge = way["nudge_beats"].get<int>() * 0.6 * (1 / (1 + way["nudge"].get<double>()) - 1);
        CHECK (way["beats"].get<int>() * 0.6 + nudge
               == Approx (seconds (inside[0], "seconds") + seconds (way, "left_seconds")).margin (1e-6));
    }
    CHECK (inside[0]["remedies"]["ways"].size() >= 2);
    const auto said = must ({ "recut", book }).out;
    CHECK (said.find ("cost ") != std::string::npos);

    // The change list it wrote makes the same edition of another copy.
    const auto again = run ({ "recut", second, "--change-list", folder / "changes.csv", "--json" });
    INFO (again.err);
    REQUIRE (again.status == 0);
    CHECK (again.json()["runs"] == made["runs"]);
    CHECK (again.json()["hits"] == made["hits"]);

    // Sheets are made without the pictures that are still to come, and say so.
    const auto report = run ({ "export", book, "recut-report", "-o", folder / "recut.pdf", "--stamped", "2026-05-01" });
    INFO (report.err);
    CHECK (report.status == 0);
    CHECK (report.err.find ("no pictures yet") != std::string::npos);
    CHECK (run ({ "still", book, "film:1310", "-o", folder / "none.png" }).status == 3);
    CHECK (run ({ "still", book, "film:800", "-o", folder / "some.png" }).status == 0);

    // The change list as comments of a CMX3600 list.
    must ({ "export", book, "recut-cmx3600", "-o", folder / "changes.edl", "--stamped", "2026-05-01" });
    const auto comments = readFile (folder / "changes.edl");
    for (const std::string line :
         { "* CHANGE moved, was film frame 1284, 80 film frames, -498", "* CHANGE kept, head -12, was film frame 1144",
           "* CHANGE cut out ", "* CHANGE new", "* CHANGE remade, was film frame 456" })
    {
        INFO (line);
        CHECK (comments.find (line) != std::string::npos);
    }

    // What can't be: a list of another film, half of a pair, a broken one.
    CHECK (run ({ "recut", second, "--old-list", folder / "b.edl", "--new-list", folder / "a.edl", "--from", "A" }).status == 2);
    CHECK (run ({ "recut", second, "--old-list", folder / "a.edl" }).status == 2);
    writeFile (folder / "broken.edl", listOf ("b") + "044  NEWREEL  V     C        1:2:3 nothing\r\n");
    const auto broken =
        run ({ "recut", second, "--old-list", folder / "a.edl", "--new-list", folder / "broken.edl", "--from", "A" });
    CHECK (broken.status == 3);
    CHECK (broken.err.find ("broken.edl") != std::string::npos);
    CHECK (broken.err.find ("line ") != std::string::npos);
}

TEST_CASE ("Two editions and two states of a book are compared: what moved, what is said otherwise, cards, cues")
{
    Folder folder;
    const auto book = folder / "film.shutterbeat", earlier = folder / "earlier.shutterbeat";
    makeFilm (folder / "film.mp4", 480);
    must ({ "new", book, folder / "film.mp4", "--running", "18", "--final", "24" });
    must ({ "cues", book, "add", "--number", "1M1", "--in", "film:0", "--out", "film:470", "--tempo", "90" });
    must ({ "hits", book, "add", "--at", "film:100", "--cue", "1M1", "--label", "the bell", "--weight", "may" });
    must ({ "hits", book, "add", "--at", "film:300", "--cue", "1M1", "--label", "the horse" });
    fs::copy_file (book, earlier);
    CHECK (must ({ "compare", book, "--since", earlier }).out.find ("nothing has changed") != std::string::npos);
    must ({ "hits", book, "set", "me-2", "--label", "the church bell", "--weight", "must" });
    must ({ "hits", book, "remove", "me-3" });
    must ({ "hits", book, "add", "--at", "film:200", "--cue", "1M1", "--label", "the mule" });
    const auto since = must ({ "compare", book, "--since", earlier, "--json" }).json();
    std::string said;
    for (const auto& sentence : since["decisions"])
        said += sentence.get<std::string>() + "\n";
    INFO (said);
    for (const std::string part :
         { "the church bell", "was called \"the bell\"", "must", "\"the mule\" is new", "\"the horse\" is gone" })
        CHECK (said.find (part) != std::string::npos);

    // Two seconds are out: everything behind is earlier, the cue shorter.
    writeFile (folder / "changes.csv", "what,old first,old frames,new first,new frames\nkept,0,150,0,150\ncut out,150,36,,\n"
                                       "kept,186,294,150,294\n");
    must ({ "recut", book, "--change-list", folder / "changes.csv" });
    const auto editions = must ({ "compare", book, "--editions", "A", "B", "--json" }).json();
    CHECK (editions["cues"].dump().find ("2.00 s shorter") != std::string::npos);
    CHECK (editions["decisions"].dump().find ("48 frames earlier") != std::string::npos);
    CHECK (run ({ "compare", book, "--editions", "A", "Q" }).status == 2);
    CHECK (run ({ "compare", book }).status == 2);
    CHECK (run ({ "compare", book, "--since", folder / "none.shutterbeat" }).status == 3);
}
