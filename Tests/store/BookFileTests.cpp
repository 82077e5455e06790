#include "Catch.h"
#include "store/Folder.h"

#include "store/BookFile.h"
#include "store/WholeFile.h"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <unistd.h>

using namespace shutterbeat;
using tests::Folder;
using tests::readFile;
namespace fs = std::filesystem;
using time::Rational;

namespace
{
void writeFile (const std::string& path, const std::string& text)
{
    std::ofstream (path, std::ios::binary) << text;
}

spotting::Book sampleBook()
{
    spotting::Book book;
    book.title = "The Lamp at “Ærø”";
    book.delivery = { { Rational (30000, 1001), true }, Rational (30) };
    film::Print print;
    print.id = "print-1";
    print.name = "Nitrate";
    print.gauge = time::gauges()[1];
    film::ReelFile reel;
    reel.path = "reels/Ærø – 1.mov";
    reel.identity = "123-abc";
    reel.rate = Rational (25);
    reel.startLabel = "10:00:00:00";
    reel.width = 640;
    reel.height = 480;
    reel.cadence = *film::Cadence::fromRuns ({ { { 2, 1, 1, 1 }, 403 }, { { 1 }, 7 } });
    reel.cadenceSaid = "measured";
    print.reels.push_back (reel);
    book.prints = std::vector<film::Print>{ print };
    film::Edition edition;
    edition.speed = Rational (200, 11);
    film::Shot shot;
    shot.id = "scan-1";
    shot.name = "1";
    shot.print = "print-1";
    shot.end = 400;
    shot.speed = Rational (18);
    shot.strength = 0.5;
    film::Shot made;
    made.id = "scan-2";
    made.name = "2";
    made.kind = film::ShotKind::card;
    made.made = Rational (124, 25);
    made.wording = "“Stå!”\nsaid the keeper";
    edition.shots = { shot, made };
    book.editions = std::vector<film::Edition>{ edition };
    spotting::HitPoint hit;
    hit.id = "anna-1";
    hit.place = film::EdgePlace{ "scan-2", film::Edge::tail, Rational (-1, 3), 0 };
    hit.kind = spotting::HitKind::seenMusic;
    hit.lead = Rational (-1, 24);
    hit.label = "=cmd|' \"quoted\", and\ttabs";
    spotting::HitPoint other = hit;
    other.id = "anna-2";
    other.place = film::PicturePlace{ "print-1", 77, 2 };
    other.agreed = true;
    other.cue = "ben-1";
    book.hits = std::vector<spotting::HitPoint>{ hit, other };
    spotting::Cue cue;
    cue.id = "ben-1";
    cue.number = "1M1";
    cue.in = film::OutsidePlace{ false, Rational (-4) };
    cue.out = film::OutsidePlace{ true, Rational (3, 2) };
    music::TempoPlan plan;
    plan.pickup = Rational (1, 2);
    plan.meters = { { 1, *music::parseMeter ("4/4") }, { 9, *music::parseMeter ("7/8(2+2+3)") } };
    plan.tempos = { { 0, Rational (1440, 13), Rational (1, 4), music::Course::rampInBeat, Rational (90) },
                    { 8, Rational (60), Rational (3, 8), music::Course::steady, {} } };
    plan.stretches = { { 12, 13, Rational (20), true }, { 16, 24, Rational (25, 2), false } };
    plan.keys = { { 1, -3, true } };
    cue.tempo = *music::TempoMap::of (plan);
    cue.barOne = { "anna-1", film::PicturePlace{ "print-1", 9, 0 }, Rational (-1, 24) };
    book.cues = std::vector<spotting::Cue>{ cue };
    book.people = std::vector<spotting::Person>{ { "anna", "Anna", "restorer", 2, {} }, { "ben", "Ben", "composer", 1, {} } };
    return book;
}
} // namespace

TEST_CASE ("A book is read back as it was written, and the same book is the same bytes")
{
    const auto book = sampleBook();
    const auto text = store::bookText (book);
    const auto again = store::parseBook (text, "x");
    REQUIRE (again.ok());
    CHECK (*again == book);
    CHECK (store::bookText (*again) == text);
}

TEST_CASE ("Members that this version does not know are kept, wherever they stand")
{
    auto json = nlohmann::ordered_json::parse (store::bookText (sampleBook()));
    json["verses"] = { { { "title", "Waltz" } } };
    json["hits"][1]["colour"] = "amber";
    json["cues"][0]["dynamics"] = { 1, 2, { { "x", nullptr } } };
    json["people"][0]["mail"] = "a@b";
    json["prints"][0]["condition"] = "worn";
    json["prints"][0]["reels"][0]["density"] = 3;
    json["editions"][0]["locked"] = true;
    json["editions"][0]["shots"][1]["remake"] = "retranslated";
    const auto book = store::parseBook (json.dump(), "x");
    REQUIRE (book.ok());
    const auto again = nlohmann::json::parse (store::bookText (*book));
    CHECK (again["verses"][0]["title"] == "Waltz");
    CHECK (again["hits"][1]["colour"] == "amber");
    CHECK (again["cues"][0]["dynamics"][2].contains ("x"));
    CHECK (again["people"][0]["mail"] == "a@b");
    CHECK (again["prints"][0]["condition"] == "worn");
    CHECK (again["prints"][0]["reels"][0]["density"] == 3);
    CHECK (again["editions"][0]["locked"] == true);
    CHECK (again["editions"][0]["shots"][1]["remake"] == "retranslated");
}

TEST_CASE ("Whether a shot is remade and why is kept, and a book of before that opens without")
{
    auto book = sampleBook();
    auto editions = book.editions.list();
    editions[0].shots[0].remade = true;
    editions[0].shots[0].reason = "torn in “Nitrate”; from the censor’s copy";
    book.editions = editions;
    const auto text = store::bookText (book);
    const auto back = store::parseBook (text, "lamp.shutterbeat");
    REQUIRE (back.ok());
    CHECK (back->editions == book.editions);
    CHECK (store::bookText (*back) == text);
    const auto before = store::parseBook (store::bookText (sampleBook()), "lamp.shutterbeat");
    REQUIRE (before.ok());
    CHECK_FALSE (before->editions[0].shots[0].remade);
    CHECK (before->editions[0].shots[0].reason.empty());
    auto wrong = text;
    wrong.replace (wrong.find ("\"remade\": true"), 14, "\"remade\": \"so\"");
    const auto refused = store::parseBook (wrong, "lamp.shutterbeat");
    REQUIRE_FALSE (refused.ok());
    CHECK (refused.error().text().find ("editions[0].shots[0].remade") != std::string::npos);
}

TEST_CASE ("A book of before tempo maps opens with its one tempo")
{
    auto json = nlohmann::ordered_json::parse (store::bookText (sampleBook()));
    json["cues"][0].erase ("tempo_map");
    json["cues"][0].erase ("bar_one");
    json["cues"][0]["beats_per_minute"] = "1440/13";
    const auto book = store::parseBook (json.dump(), "x");
    REQUIRE (book.ok());
    REQUIRE (book->cues[0].tempo);
    CHECK (*book->cues[0].tempo == *music::TempoMap::steady (Rational (1440, 13)));
    CHECK (book->cues[0].barOne == spotting::BarOne{});
    const auto again = nlohmann::json::parse (store::bookText (*book));
    CHECK_FALSE (again["cues"][0].contains ("beats_per_minute"));
    CHECK (again["cues"][0]["tempo_map"]["tempos"][0]["beats_per_minute"] == "1440/13");
    json["cues"][0]["beats_per_minute"] = "0";
    CHECK (store::parseBook (json.dump(), "x").error().message.find ("cues[0].beats_per_minute") != std::string::npos);
}

TEST_CASE ("A tempo map that makes no sense is refused with its place")
{
    auto json = nlohmann::ordered_json::parse (store::bookText (sampleBook()));
    auto late = json;
    late["cues"][0]["tempo_map"]["tempos"][1]["at"] = "-1";
    const auto refused = store::parseBook (late.dump(), "x");
    REQUIRE_FALSE (refused.ok());
    CHECK (refused.error().message.find ("cues[0].tempo_map") != std::string::npos);
    CHECK (refused.error().message.find ("order") != std::string::npos);
    json["cues"][0]["tempo_map"]["meters"][1]["meter"] = "7/9";
    CHECK (store::parseBook (json.dump(), "x").error().message.find ("cues[0].tempo_map.meters[1].meter") != std::string::npos);
}

TEST_CASE ("A damaged, foreign or newer book is refused with its place, and left as it is")
{
    Folder folder;
    const auto path = folder / "film.shutterbeat";
    const auto text = store::bookText (sampleBook());
    const auto complaint = [&] (const std::string& bytes)
    {
        writeFile (path, bytes);
        const auto loaded = store::loadBook (path);
        REQUIRE_FALSE (loaded.ok());
        CHECK (loaded.error().code == ErrorCode::unreadable);
        CHECK (loaded.error().where == path);
        CHECK (readFile (path) == bytes);
        return loaded.error().message;
    };
    CHECK (complaint (text.substr (0, text.size() / 2)).find ("line ") != std::string::npos);
    CHECK (complaint ("").find ("empty") != std::string::npos);
    CHECK (complaint ("{\"a\": 1}").find ("not a Shutterbeat book") != std::string::npos);
    // A film, say, has brackets too.
    CHECK (complaint (std::string ("\0\0\0 ftypisom", 12) + std::string (100, '[')).find ("not a Shutterbeat book")
           != std::string::npos);
    auto json = nlohmann::ordered_json::parse (text);
    auto newer = json;
    newer["schema"] = store::schemaVersion + 1;
    CHECK (complaint (newer.dump()).find ("newer") != std::string::npos);
    auto wrong = json;
    wrong["hits"][1]["place"]["frame"] = "seventy";
    CHECK (complaint (wrong.dump()).find ("hits[1].place.frame") != std::string::npos);
    auto twice = json;
    twice["hits"][1]["id"] = "anna-1";
    CHECK (complaint (twice.dump()).find ("twice") != std::string::npos);
    auto rate = json;
    rate["final_rate"] = "24df";
    CHECK (complaint (rate.dump()).find ("drop-frame") != std::string::npos);
    auto fine = json;
    fine["hits"][0]["lead"] = "1/100000000000000000000000000000";
    CHECK (complaint (fine.dump()).find ("hits[0].lead") != std::string::npos);
    auto hostile = json;
    hostile["prints"][0]["reels"][0]["cadence"][0]["film_frames"] = 4'000'000'000'000;
    CHECK (complaint (hostile.dump()).find ("cadence") != std::string::npos);
    CHECK (complaint (std::string (1'000'000, '[')).find ("deep") != std::string::npos);
    CHECK (store::loadBook (folder.path.string()).error().message.find ("folder") != std::string::npos);
    CHECK (store::loadBook (folder / "none").error().code == ErrorCode::unreadable);
}

TEST_CASE ("Every truncation of a book is refused, never half read")
{
    const auto text = store::bookText (sampleBook());
    for (std::size_t n = 0; n + 2 < text.size(); ++n)
        if (store::parseBook (std::string_view (text).substr (0, n), "x").ok())
            FAIL ("the first " << n << " bytes were taken for a book");
    SUCCEED();
}

TEST_CASE ("Any byte changed gives a book or an error, never a crash")
{
    const auto text = store::bookText (sampleBook());
    CHECK_PROPERTY ("changed bytes",
                    [&]
                    {
                        auto changed = text;
                        const auto at = *rc::gen::inRange<std::size_t> (0, text.size());
                        changed[at] = static_cast<char> (*rc::gen::inRange (0, 256));
                        const auto book = store::parseBook (changed, "x");
                        if (book.ok())
                            RC_ASSERT (store::parseBook (store::bookText (*book), "x").ok());
                    });
}

TEST_CASE ("Two writers on one book: the second is told, the first one's book stays")
{
    Folder folder;
    const auto path = folder / "film.shutterbeat";
    REQUIRE (store::saveBook (path, sampleBook(), "").ok());
    CHECK (store::saveBook (path, sampleBook(), "").error().code == ErrorCode::cannotWrite);
    auto mine = *store::loadBook (path);
    auto theirs = *store::loadBook (path);
    theirs.book.title = "Theirs";
    REQUIRE (store::saveBook (path, theirs.book, theirs.stamp).ok());
    mine.book.title = "Mine";
    const auto saved = store::saveBook (path, mine.book, mine.stamp);
    REQUIRE_FALSE (saved.ok());
    CHECK (saved.error().code == ErrorCode::conflict);
    CHECK (store::loadBook (path)->book.title == "Theirs");
}

TEST_CASE ("A folder that can't be written leaves the book and no debris")
{
    if (::geteuid() == 0)
    {
        // Root may write anywhere: a folder that is not there shows the same path through the code.
        Folder folder;
        const auto saved = store::saveBook (folder / "gone/film.shutterbeat", sampleBook(), "");
        REQUIRE_FALSE (saved.ok());
        CHECK (saved.error().code == ErrorCode::cannotWrite);
        return;
    }
    Folder folder;
    const auto path = folder / "film.shutterbeat";
    const auto stamp = store::saveBook (path, sampleBook(), "");
    REQUIRE (stamp.ok());
    const auto before = readFile (path);
    fs::permissions (folder.path, fs::perms::owner_read | fs::perms::owner_exec);
    auto other = sampleBook();
    other.title = "x";
    CHECK (store::saveBook (path, other, *stamp).error().code == ErrorCode::cannotWrite);
    CHECK (readFile (path) == before);
}

TEST_CASE ("A full disk is said, and the book on it stays whole")
{
    // /dev/full refuses every write, as a full disk does; a link to it stands in for the temporary file's folder filling up.
    const auto written = store::writeWhole ("/dev/full/x", "bytes");
    REQUIRE_FALSE (written.ok());
    CHECK (written.error().code == ErrorCode::cannotWrite);
}

TEST_CASE ("Paths in any letters save and open again (CASES B54)")
{
    Folder folder;
    for (const std::string name : { "Ærø – “Stå”/Čapek 日本.shutterbeat",
                                    "C\xCC\x8C"
                                    "apek.shutterbeat",
                                    " leading #1 %20.shutterbeat" })
    {
        const auto path = folder / name;
        fs::create_directories (fs::path (path).parent_path());
        REQUIRE (store::saveBook (path, sampleBook(), "").ok());
        CHECK (store::loadBook (path).ok());
    }
    const auto missing = folder / "Ærø – “Nej”.shutterbeat";
    CHECK (store::loadBook (missing).error().text().find ("Ærø – “Nej”") != std::string::npos);
}

TEST_CASE ("A linked book is saved where it really is, with its permissions")
{
    Folder folder;
    fs::create_directory (folder.path / "real");
    const auto real = folder / "real/film.shutterbeat";
    const auto link = folder / "link.shutterbeat";
    auto stamp = store::saveBook (real, sampleBook(), "");
    REQUIRE (stamp.ok());
    fs::permissions (real, fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
    fs::create_symlink (real, link);
    auto loaded = *store::loadBook (link);
    loaded.book.title = "through the link";
    REQUIRE (store::saveBook (link, loaded.book, loaded.stamp).ok());
    CHECK (fs::is_symlink (link));
    CHECK (store::loadBook (real)->book.title == "through the link");
    CHECK ((fs::status (real).permissions() & fs::perms::others_read) == fs::perms::none);
}
