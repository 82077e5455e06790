#include "Bench.h"

#include <algorithm>
#include <cstdlib>
#include <map>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
std::string revisionBook (const Folder& folder)
{
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 200);
    must ({ "new", book, film, "--running", "20", "--final", "25", "--start", "01:00:00:00" });
    must ({ "cues", book, "add", "--number", "1M1", "--title", "Kitchen", "--in", "film:20", "--out", "film:150", "--tempo",
            "97.3" });
    must ({ "hits", book, "add", "--at", "film:60", "--label", "The cake lands", "--cue", "1M1", "--weight", "must" });
    return book;
}

std::string pdfText (const std::string& path)
{
    const auto text = path + ".txt";
    REQUIRE (std::system (("pdftotext -layout '" + path + "' '" + text + "'").c_str()) == 0);
    return readFile (text);
}
} // namespace

TEST_CASE ("A named revision is stamped on every list and sheet, which say when the book was changed since")
{
    Folder folder;
    const auto book = revisionBook (folder);
    CHECK (must ({ "revisions", book, "--json" }).json()["now"] == "");
    must ({ "revisions", book, "--name", "after the session", "--stamped", "2026-05-01" });
    CHECK (run ({ "revisions", book, "--name", "after the session" }).status == 2);
    CHECK (run ({ "revisions", book, "--name", "two\nlines" }).status == 2);
    const auto made = [&] (const std::string& out)
    {
        must ({ "export", book, "--all", folder / out });
        std::map<std::string, std::string> texts;
        for (const char* name : { "hits.csv", "cues.csv", "hits.txt", "markers.mid", "cue-1M1.mid", "cue-1M1.musicxml", "hits.edl",
                                  "film.otio", "hits.vtt" })
            texts[name] = readFile (folder / (out + "/" + name));
        for (const char* name : { "spotting-notes.pdf", "timing-notes.pdf", "cue-list.pdf", "click-chart.pdf", "strip-score.pdf",
                                  "rights.pdf", "title-list.pdf", "source-list.pdf" })
            texts[name] = pdfText (folder / (out + "/" + name));
        return texts;
    };
    for (const auto& [name, text] : made ("one"))
    {
        INFO (name);
        CHECK (text.find ("after the session") != std::string::npos);
        CHECK (text.find ("changed since") == std::string::npos);
    }
    // Who took part is no change of the book; a note is one.
    must ({ "parcel", book, "--for", "ida", "-o", folder / "ida", "--no-movie" });
    CHECK (must ({ "revisions", book, "--json" }).json()["now"] == "after the session");
    auto readMe = readFile (folder / "ida/READ-ME.txt");
    std::replace (readMe.begin(), readMe.end(), '\n', ' ');
    CHECK (readMe.find ("revision after the session") != std::string::npos);
    must ({ "hits", book, "set", "me-2", "--note", "dry, no ring" });
    CHECK (must ({ "revisions", book, "--json" }).json()["now"] == "after the session, changed since");
    for (const auto& [name, text] : made ("two"))
    {
        INFO (name);
        CHECK (text.find ("changed since") != std::string::npos);
    }
    must ({ "hits", book, "set", "me-2", "--note", "" });
    CHECK (must ({ "revisions", book, "--json" }).json()["now"] == "after the session");
}

TEST_CASE ("What changed since a named revision, and between two, is told cue by cue and hit by hit")
{
    Folder folder;
    const auto book = revisionBook (folder), copy = folder / "theirs.shutterbeat", base = folder / "base.shutterbeat";
    must ({ "revisions", book, "--name", "first" });
    CHECK (must ({ "revisions", book, "--since", "first", "--json" }).json()["changes"].empty());
    fs::copy_file (book, base);
    fs::copy_file (book, copy);
    must ({ "hits", book, "set", "me-2", "--at", "film:70", "--weight", "may" });
    must ({ "hits", book, "add", "--at", "film:100", "--label", "Door" });
    must ({ "revisions", book, "--name", "second" });
    must ({ "cues", book, "set", "1M1", "--out", "film:140" });
    const auto since = must ({ "revisions", book, "--since", "first" }).out;
    CHECK (since.find ("Hit \"The cake lands\": 13 frames later") != std::string::npos); // 60 is 75, 70 is 88
    CHECK (since.find ("Hit \"Door\" is new") != std::string::npos);
    CHECK (since.find ("Cue \"1M1 Kitchen\"") != std::string::npos);
    const auto between = must ({ "revisions", book, "--since", "first", "--until", "second" }).out;
    CHECK (between.find ("Door") != std::string::npos);
    CHECK (between.find ("Kitchen") == std::string::npos);
    const auto unknown = run ({ "revisions", book, "--since", "third" });
    CHECK (unknown.status == 2);
    CHECK (unknown.err.find ("first, second") != std::string::npos);

    // Both named a state: none is lost in the merged book, whatever they called it.
    must ({ "hits", copy, "add", "--at", "film:30", "--label", "Cat", "--person", "ida" });
    must ({ "revisions", copy, "--name", "second" });
    must ({ "merge", base, book, copy, "-o", folder / "merged.shutterbeat" });
    const auto merged = must ({ "revisions", folder / "merged.shutterbeat", "--json" }).json()["revisions"];
    REQUIRE (merged.size() == 3);
    CHECK (merged[0]["name"] == "first");
    CHECK (merged[1]["name"] == "second");
    CHECK (merged[2]["name"] == "second (theirs)");
}
