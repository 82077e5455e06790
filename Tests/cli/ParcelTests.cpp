#include "Bench.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
std::string parcelBook (const Folder& folder)
{
    const auto film = folder / "film.mp4", book = folder / "b.shutterbeat";
    makeFilm (film, 120);
    must ({ "new", book, film, "--running", "18", "--final", "24", "--start", "01:00:00:00" });
    must ({ "cues", book, "add", "--number", "1M1", "--title", "Køkkenet", "--in", "film:9", "--out", "film:60", "--tempo", "96" });
    must ({ "cues", book, "add", "--number", "1M2", "--in", "film:60", "--out", "end" });
    must ({ "hits", book, "add", "--at", "film:30", "--label", "The cake lands", "--cue", "1M1", "--weight", "must" });
    must ({ "hits", book, "add", "--at", "film:70", "--label", "The ladder", "--cue", "1M2" });
    must ({ "hits", book, "add", "--at", "film:80", "--label", "The dog", "--cue", "1M2" });
    return book;
}

nlohmann::json packed (const std::string& book, const std::string& path, std::vector<std::string> more = {})
{
    more.insert (more.begin(), { "parcel", book, "--for", "ida", "-o", path, "--json", "--preset", "ultrafast" });
    return must (more).json();
}
} // namespace

TEST_CASE ("A parcel holds what a person needs, whole, numbered, and says what changed since their last one")
{
    Folder folder;
    const auto book = parcelBook (folder), first = folder / "one", third = folder / "three";
    const auto made = packed (book, first, { "--stamped", "2026-05-01" });
    CHECK (made["number"] == 1);
    CHECK (made["first"] == true);
    for (const std::string name : { "READ-ME.txt", "movie.mp4", "page.html", "timing-notes.pdf", "cue-list.pdf", "markers.mid",
                                    "hits.csv", "cues.csv", "hits.edl", "hits.vtt", "click-1M1.wav", "SHA256SUMS" })
    {
        INFO (name);
        CHECK (fs::exists (fs::path (first) / name));
    }
    CHECK (std::system (("cd '" + first + "' && sha256sum --quiet -c SHA256SUMS").c_str()) == 0);
    const auto readMe = readFile (first + "/READ-ME.txt");
    CHECK (readMe.find ("Parcel 1 for ida, 2026-05-01") != std::string::npos);
    CHECK (readMe.find ("This is your first parcel.") != std::string::npos);
    CHECK (readFile (first + "/page.html").find ("\"movie\":\"movie.mp4\"") != std::string::npos);

    // Nothing changed: it says so. Then a hit moves, one goes, one comes, a weight changes.
    const auto second = packed (book, folder / "two", { "--movie", first + "/movie.mp4" });
    CHECK (second["number"] == 2);
    CHECK (second["changes"].empty());
    CHECK (readFile (folder / "two/READ-ME.txt").find ("Nothing: every cue and hit is where it was.") != std::string::npos);
    must ({ "hits", book, "set", "me-3", "--at", "film:33" });
    must ({ "hits", book, "set", "me-4", "--weight", "may" });
    must ({ "hits", book, "remove", "me-5" });
    must ({ "hits", book, "add", "--at", "film:99", "--label", "The whistle" });
    must ({ "cues", book, "set", "1M1", "--out", "film:57" });
    const auto changes = packed (book, third, { "--no-movie" })["changes"];
    REQUIRE (changes.size() == 5);
    CHECK (changes[0] == "Cue \"1M1 Køkkenet\": its end 4 frames earlier.");
    CHECK (changes[1] == "Hit \"The cake lands\": 4 frames later.");
    CHECK (changes[2] == "Hit \"The ladder\": action, may, open (was action, should, open).");
    CHECK (changes[3] == "Hit \"The whistle\" is new: action, should, open.");
    CHECK (changes[4] == "Hit \"The dog\" is gone.");
    CHECK (readFile (third + "/READ-ME.txt").find ("- Hit \"The cake lands\": 4 frames later.") != std::string::npos);
    CHECK (! fs::exists (third + "/movie.mp4"));

    // Another rate: said once, shifts in film frames; somebody else counts from one.
    const auto fourth = packed (book, folder / "four", { "--no-movie", "--final", "25" })["changes"];
    REQUIRE (fourth.size() == 1);
    CHECK (fourth[0].get<std::string>().find ("every timing is new") != std::string::npos);
    CHECK (must ({ "parcel", book, "--for", "bo", "-o", folder / "bo", "--no-movie", "--json" }).json()["number"] == 1);
    const auto list = must ({ "parcel", book, "--json" }).json()["parcels"];
    REQUIRE (list.size() == 5);
    CHECK (list[3]["number"] == 4);
    CHECK (list[3]["final_rate"] == "25");
    CHECK (list[0]["files"].size() == made["files"].size());
}

TEST_CASE ("A zipped parcel is the same bytes from the same book, and other programs read it")
{
    Folder folder;
    const auto book = parcelBook (folder), again = folder / "again.shutterbeat";
    fs::copy (book, again);
    fs::create_directories (folder / "a");
    fs::create_directories (folder / "b");
    packed (book, folder / "a/parcel.zip", { "--stamped", "2026-05-01" });
    packed (again, folder / "b/parcel.zip", { "--stamped", "2026-05-01" });
    const auto bytes = readFile (folder / "a/parcel.zip");
    CHECK (bytes.size() > 10000);
    CHECK (bytes == readFile (folder / "b/parcel.zip"));
    if (std::system ("python3 -c 'import zipfile' 2>/dev/null") == 0)
        CHECK (std::system (("cd '" + (folder / "a")
                             + "' && python3 -m zipfile -e parcel.zip out && cd out/parcel && sha256sum --quiet -c SHA256SUMS")
                                .c_str())
               == 0);
    else
        WARN ("no python3 here: the zip was not read by another program");
}

TEST_CASE ("Parcels that two copies of a book sent are all in the merged one, each with a number of its own")
{
    Folder folder;
    const auto base = parcelBook (folder), mine = folder / "mine.shutterbeat", theirs = folder / "theirs.shutterbeat";
    packed (base, folder / "one", { "--no-movie" });
    fs::copy (base, mine);
    fs::copy (base, theirs);
    packed (mine, folder / "two", { "--no-movie", "--stamped", "2026-05-02" });
    packed (theirs, folder / "other", { "--no-movie", "--stamped", "2026-05-03" });
    const auto out = folder / "merged.shutterbeat";
    CHECK (must ({ "merge", base, mine, theirs, "-o", out }).err.find ("both sent ida a parcel 2") != std::string::npos);
    const auto list = must ({ "parcel", out, "--json" }).json()["parcels"];
    REQUIRE (list.size() == 3);
    CHECK (list[1]["stamped"] == "2026-05-02");
    CHECK (list[1]["number"] == 2);
    CHECK (list[2]["stamped"] == "2026-05-03");
    CHECK (list[2]["number"] == 3);
}

TEST_CASE ("A parcel never replaces anything, and nothing half made is left behind")
{
    Folder folder;
    const auto book = parcelBook (folder);
    const auto before = readFile (book);
    fs::create_directory (folder / "there");
    CHECK (run ({ "parcel", book, "--for", "ida", "-o", folder / "there" }).status == 4);
    CHECK (run ({ "parcel", book, "-o", folder / "p" }).status == 2);
    CHECK (run ({ "parcel", book, "--for", "i d", "-o", folder / "p" }).status == 2);
    fs::remove (folder / "film.mp4");
    CHECK (run ({ "parcel", book, "--for", "ida", "-o", folder / "p" }).status == 3);
    CHECK (! fs::exists (folder / "p"));
    CHECK (! fs::exists (folder / "p.part"));
    CHECK (readFile (book) == before);
}
