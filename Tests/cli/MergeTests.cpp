#include "Bench.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;

TEST_CASE ("merge: two copies of a book, exit 1 while conflicts are open, and the inputs are never touched")
{
    Folder folder;
    const auto film = folder / "film.mp4", base = folder / "base.shutterbeat", mine = folder / "mine.shutterbeat";
    fs::create_directory (folder / "from-ida");
    const auto theirs = folder / "from-ida/theirs.shutterbeat", out = folder / "out.shutterbeat";
    makeFilm (film, 60);
    must ({ "new", base, film, "--running", "18", "--final", "24" });
    must ({ "hits", base, "add", "--at", "film:10", "--label", "door", "--person", "anna" });
    must ({ "hits", base, "add", "--at", "film:20", "--label", "fall", "--person", "anna" });
    fs::copy (base, mine);
    fs::copy (base, theirs);
    must ({ "hits", mine, "set", "anna-1", "--label", "the door" });
    must ({ "hits", mine, "add", "--at", "film:30", "--label", "lamp", "--person", "anna" });
    must ({ "hits", theirs, "set", "anna-1", "--label", "a door", "--weight", "must" });
    must ({ "hits", theirs, "add", "--at", "film:40", "--label", "kite", "--person", "ida" });
    must ({ "hits", theirs, "remove", "anna-2" });
    const auto before = readFile (mine) + readFile (theirs) + readFile (base);

    const auto shown = run ({ "merge", base, mine, theirs, "--json" });
    CHECK (shown.status == 1);
    REQUIRE (shown.json()["conflicts"].size() == 1);
    CHECK (shown.json()["conflicts"][0]["key"] == "anna-1.label");
    CHECK (shown.json()["conflicts"][0]["taken"] == "mine");
    CHECK (! fs::exists (out));

    const auto open = run ({ "merge", base, mine, theirs, "-o", out });
    CHECK (open.status == 1);
    CHECK (open.out.find ("conflict anna-1.label: hit anna-1 \"the door\", label: it was \"door\", mine is \"the door\", theirs is "
                          "\"a door\"; mine is in the merged book")
           != std::string::npos);
    fs::remove (out);
    must ({ "merge", base, mine, theirs, "-o", out, "--take", "anna-1.label=theirs" });
    const auto hits = must ({ "times", out, "--json" }).json()["hits"];
    REQUIRE (hits.size() == 3);
    CHECK (hits[0]["label"] == "a door");
    CHECK (hits[0]["weight"] == "must");
    CHECK (hits[1]["label"] == "lamp");
    CHECK (hits[2]["label"] == "kite");
    CHECK (readFile (mine) + readFile (theirs) + readFile (base) == before);
    CHECK (run ({ "merge", base, mine, theirs, "--take", "anna-1.label=both" }).status == 2);
    CHECK (run ({ "merge", base, mine, theirs, "--take", "anna-9.label=mine" }).status == 2);
    CHECK (run ({ "merge", base, mine, film }).status == 3);
    CHECK (run ({ "merge", base, mine, theirs, "-o", out }).status == 4);
    // Into mine itself, as it was read.
    CHECK (run ({ "merge", base, mine, theirs, "-o", mine, "--take", "anna-1.label=mine" }).status == 0);
    CHECK (must ({ "times", mine, "--json" }).json()["hits"].size() == 3);
}
