#include "Catch.h"
#include "SmallBook.h"
#include "spotting/ShotEdit.h"

#include <rapidcheck.h>

#include <set>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using film::Edge;

namespace
{
film::Place shotEdge (const std::string& shot, Edge which, std::int64_t offset = 0, int instance = 0)
{
    return film::EdgePlace{ shot, which, offset, instance };
}

/// Film frame of edition A at which every hit lies, in book order; -1 where it is lost.
std::vector<std::int64_t> framesOf (const spotting::Book& book)
{
    const auto timings = timed (book);
    std::vector<std::int64_t> frames;
    for (const auto& hit : book.hits)
    {
        const auto at = timings.find (hit.place);
        frames.push_back (at ? at->filmFrame : -1);
    }
    return frames;
}

const film::Shot& shotOf (const spotting::Book& book, const std::string& id, std::size_t edition = 0)
{
    for (const auto& shot : book.editions[edition].shots)
        if (shot.id == id)
            return shot;
    FAIL ("no shot " << id);
    throw 0;
}

/// s-3 (190 to 300) with hits on its edges, in it, and on its neighbours' edges.
spotting::Book bookWithHits()
{
    return did (spotting::addHits (smallBook(), "anna",
                                   { hitAt (shotEdge ("s-3", Edge::head)), hitAt (shotEdge ("s-3", Edge::head, 20)),
                                     hitAt (shotEdge ("s-3", Edge::head, 70)), hitAt (picture (240)),
                                     hitAt (shotEdge ("s-3", Edge::tail)), hitAt (shotEdge ("s-3", Edge::tail, -90)),
                                     hitAt (shotEdge ("s-3", Edge::tail, -5)), hitAt (shotEdge ("s-2", Edge::tail)) }))
        .book;
}
} // namespace

TEST_CASE ("A shot is cut in two and every hit stays where it was")
{
    const auto before = bookWithHits();
    const auto edited = did (spotting::splitShot (before, "anna", "p1", 240));
    const auto& book = edited.book;
    REQUIRE (edited.ids.size() == 1);
    const auto later = edited.ids[0];
    CHECK (shotOf (book, "s-3").end == 240);
    CHECK (shotOf (book, later).first == 240);
    CHECK (shotOf (book, later).end == 300);
    CHECK (shotOf (book, "s-3").locked);
    CHECK (shotOf (book, later).locked);
    CHECK (framesOf (book) == framesOf (before));
    // The hit on the cut at its tail belongs to the later part's tail: it moves with that cut.
    CHECK (book.hits[4].place == shotEdge (later, Edge::tail));
    CHECK (book.hits[0].place == shotEdge ("s-3", Edge::head));
    CHECK (book.hits[2].place == shotEdge (later, Edge::head, 20));
    CHECK (book.hits[5].place == shotEdge ("s-3", Edge::tail, -30));
    CHECK_FALSE (spotting::splitShot (book, "anna", "p1", 240));
    CHECK_FALSE (spotting::splitShot (book, "anna", "p1", 700));
    CHECK_FALSE (spotting::splitShot (book, "", "p1", 250));
}

TEST_CASE ("A shot is joined to the one before, and hits on the cut keep their picture")
{
    auto before = did (spotting::addHits (smallBook(), "anna",
                                          { hitAt (shotEdge ("s-2", Edge::head)), hitAt (shotEdge ("s-1", Edge::tail)),
                                            hitAt (shotEdge ("s-2", Edge::head, 7)), hitAt (shotEdge ("s-2", Edge::tail)),
                                            hitAt (shotEdge ("s-1", Edge::head)), hitAt (shotEdge ("s-1", Edge::tail, -3)) }))
                      .book;
    const auto book = did (spotting::joinShot (before, "A", "s-2"));
    CHECK (book.editions[0].shots.size() == before.editions[0].shots.size() - 1);
    CHECK (shotOf (book, "s-1").end == 190);
    CHECK (shotOf (book, "s-1").kind == film::ShotKind::shot);
    CHECK (framesOf (book) == framesOf (before));
    CHECK (book.hits[3].place == shotEdge ("s-1", Edge::tail));
    CHECK (book.hits[0].place == picture (100));
    const auto first = spotting::joinShot (before, "A", "s-1");
    REQUIRE_FALSE (first);
    CHECK (first.error().text().find ("first of the edition") != std::string::npos);
    CHECK_FALSE (spotting::joinShot (before, "A", "s-4"));
    CHECK_FALSE (spotting::joinShot (before, "A", "s-5"));
    CHECK_FALSE (spotting::joinShot (before, "B", "s-2"));
}

TEST_CASE ("A cut is moved: a hit on it goes along, one counted from it stays on its picture")
{
    const auto before = bookWithHits();
    const auto book = did (spotting::moveCut (before, "A", "s-3", 4));
    CHECK (shotOf (book, "s-2").end == 194);
    CHECK (shotOf (book, "s-3").first == 194);
    auto expected = framesOf (before);
    expected[0] += 4;
    expected[7] += 4;
    CHECK (framesOf (book) == expected);
    CHECK_FALSE (spotting::moveCut (before, "A", "s-3", 110));
    CHECK_FALSE (spotting::moveCut (before, "A", "s-3", -90));
    CHECK (did (spotting::moveCut (book, "A", "s-3", -4)).hits == before.hits);
}

TEST_CASE ("Corrections reach every edition that uses the pictures, and refuse where it uses them apart")
{
    auto book = bookWithHits();
    auto editions = book.editions.list();
    auto b = edition ({ shot ("s-3", 190, 300), shot ("s-1", 0, 100), shot ("s-3", 230, 300) });
    b.letter = "B";
    editions.push_back (b);
    book.editions = editions;
    const auto edited = did (spotting::splitShot (book, "anna", "p1", 220));
    REQUIRE (edited.ids.size() == 1);
    const auto& cut = edited.book.editions[1].shots;
    REQUIRE (cut.size() == 4);
    CHECK (cut[0].id == "s-3");
    CHECK (cut[1].id == edited.ids[0]);
    CHECK (cut[3].id == edited.ids[0]); // trimmed behind the cut: only the later part is left
    CHECK (cut[3].first == 230);
    const auto joined = spotting::joinShot (book, "A", "s-2");
    REQUIRE_FALSE (joined);
    CHECK (joined.error().text().find ("edition B") != std::string::npos);
    CHECK (framesOf (edited.book) == framesOf (book));
}

TEST_CASE ("What a person says of a shot")
{
    auto book = bookWithHits();
    spotting::ShotWords words;
    words.kind = film::ShotKind::card;
    words.wording = "The End";
    words.speed = std::optional (time::Rational (16));
    book = did (spotting::setShots (book, "A", { "s-3", "s-5" }, words));
    CHECK (shotOf (book, "s-5").kind == film::ShotKind::card);
    CHECK (shotOf (book, "s-3").locked);
    CHECK (shotOf (book, "s-3").speed == time::Rational (16));
    CHECK (shotOf (book, "s-2").speed == std::nullopt);
    words = {};
    words.locked = false;
    words.speed = std::optional<time::Rational>();
    book = did (spotting::setShots (book, "A", { "s-3" }, words));
    CHECK_FALSE (shotOf (book, "s-3").locked);
    CHECK (shotOf (book, "s-3").speed == std::nullopt);
    words.speed = std::optional (time::Rational (0));
    CHECK_FALSE (spotting::setShots (book, "A", { "s-3" }, words));
    CHECK_FALSE (spotting::setShots (book, "A", { "s-9" }, {}));
    words = {};
    words.remade = true;
    words.reason = "retranslated";
    book = did (spotting::setShots (book, "A", { "s-3" }, words));
    CHECK (shotOf (book, "s-3").making() == "remade");
    CHECK (shotOf (book, "s-3").reason == "retranslated");
    CHECK (shotOf (book, "s-5").making().empty());
    CHECK (did (spotting::setShots (book, "A", { "s-3" }, {})) == book);
    CHECK (did (spotting::shotNamed (book.editions[0], "s-3")) == "s-3");
    CHECK_FALSE (spotting::shotNamed (book.editions[0], "nothing"));
}

TEST_CASE ("Both parts of a shot that is cut keep its reason, and one shot of two has both")
{
    auto book = bookWithHits();
    spotting::ShotWords words;
    words.remade = true;
    words.reason = "torn in the first print";
    book = did (spotting::setShots (book, "A", { "s-3" }, words));
    const auto first = shotOf (book, "s-3").first;
    const auto cut = did (spotting::splitShot (book, "anna", "p1", first + 10));
    CHECK (shotOf (cut.book, cut.ids[0]).making() == "remade");
    CHECK (shotOf (cut.book, cut.ids[0]).reason == "torn in the first print");
    words.reason = "faded";
    const auto apart = did (spotting::setShots (cut.book, "A", { cut.ids[0] }, words));
    CHECK (shotOf (did (spotting::joinShot (apart, "A", cut.ids[0])), "s-3").reason == "torn in the first print; faded");
    CHECK (shotOf (did (spotting::joinShot (cut.book, "A", cut.ids[0])), "s-3").reason == "torn in the first print");
}

TEST_CASE ("A new scan leaves locked shots alone and moves, joins and cuts the others")
{
    auto book = bookWithHits();
    const auto before = framesOf (book);
    const std::vector<film::ScannedShot> found{
        { 0, 50, film::ShotKind::shot, 0.5 },    { 50, 102, film::ShotKind::shot, 0.6 },  { 102, 190, film::ShotKind::card, 0.7 },
        { 190, 260, film::ShotKind::shot, 0.8 }, { 260, 400, film::ShotKind::shot, 0.9 },
    };
    const auto again = did (spotting::withNewScan (book, "scan", "p1", found));
    CHECK (again.moved == 1);
    CHECK (again.split == 2);
    CHECK (again.joined == 0); // the made card stands between 300 and 400
    const auto& shots = again.book.editions[0].shots;
    REQUIRE (shots.size() == 7);
    CHECK (shots[1].first == 50);
    CHECK (shots[2].first == 102);
    CHECK (shots[2].kind == film::ShotKind::card);
    CHECK (shots[4].first == 260);
    CHECK_FALSE (shots[4].locked);
    CHECK (shots[4].strength == Approx (0.9));
    CHECK (framesOf (again.book) == before);
    const auto twice = did (spotting::withNewScan (again.book, "scan", "p1", found));
    CHECK (twice.split + twice.joined + twice.moved + twice.retyped == 0);
    CHECK (twice.book == again.book);

    // A person has cut at 70 and joined nothing else: the scan may not undo it, nor cut inside those two.
    const auto byHand = did (spotting::splitShot (book, "anna", "p1", 70));
    const auto kept = did (spotting::withNewScan (byHand.book, "scan", "p1", found));
    CHECK (kept.book.editions[0].shots[0].end == 70);
    CHECK (kept.book.editions[0].shots[1].end == 100);
    const auto none = did (spotting::withNewScan (book, "scan", "p1", { { 0, 400, film::ShotKind::shot, 1 } }));
    CHECK (none.joined == 2);
    CHECK (none.book.editions[0].shots.size() == 3);
    CHECK (framesOf (none.book) == before);
}

TEST_CASE ("Cuts made and taken back again leave every hit on its picture")
{
    CHECK (rc::check ("random corrections",
                      []
                      {
                          auto book = did (spotting::addHits (
                                               smallBook(), "anna",
                                               { hitAt (picture (*rc::gen::inRange<std::int64_t> (0, 400))),
                                                 hitAt (shotEdge ("s-3", Edge::head, *rc::gen::inRange<std::int64_t> (1, 110))),
                                                 hitAt (shotEdge ("s-1", Edge::tail, *rc::gen::inRange<std::int64_t> (-99, -1))) }))
                                          .book;
                          const auto frames = framesOf (book);
                          const auto cuts =
                              *rc::gen::container<std::vector<std::int64_t>> (rc::gen::inRange<std::int64_t> (0, 420));
                          std::vector<std::string> made;
                          for (const auto cut : cuts)
                              if (auto edited = spotting::splitShot (book, "bo", "p1", cut))
                              {
                                  book = edited->book;
                                  made.insert (made.end(), edited->ids.begin(), edited->ids.end());
                                  RC_ASSERT (framesOf (book) == frames);
                              }
                          for (auto id = made.rbegin(); id != made.rend(); ++id)
                          {
                              auto joined = spotting::joinShot (book, "A", *id);
                              RC_ASSERT (joined.operator bool());
                              book = *joined;
                              RC_ASSERT (framesOf (book) == frames);
                          }
                          RC_ASSERT (book.editions[0].shots.size() == smallBook().editions[0].shots.size());
                      }));
}
