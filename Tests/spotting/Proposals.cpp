#include "SmallBook.h"

using namespace shutterbeat;
using namespace shutterbeat::spotting;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
std::vector<std::string> labels (const std::vector<HitPoint>& hits)
{
    std::vector<std::string> all;
    for (const auto& hit : hits)
        all.push_back (hit.label);
    return all;
}
} // namespace

TEST_CASE ("Cuts and cards are proposed as edge places, open, and marked as from the scan")
{
    const Book book = smallBook();
    const auto hits = proposedHits (book, book.editions[0]);
    REQUIRE (hits.size() == 4);
    CHECK (labels (hits) == std::vector<std::string>{ "Meanwhile, at the mill \xe2\x80\xa6", "shot s-3", "card s-4", "shot s-5" });
    CHECK (hits[0].kind == HitKind::card);
    CHECK (hits[1].kind == HitKind::cut);
    CHECK (hits[2].kind == HitKind::card);
    for (const auto& hit : hits)
    {
        CHECK (hit.fromScan);
        CHECK (hit.weight == Weight::may);
        CHECK_FALSE (hit.agreed);
        CHECK (std::get<film::EdgePlace> (hit.place).edge == film::Edge::head);
        CHECK (hit.earlyMs == 40);
        CHECK (hit.lateMs == 80);
    }
    // Proposed once: when they are in the book there is nothing left to propose.
    const auto added = did (addHits (book, "scan", hits));
    CHECK (proposedHits (added.book, book.editions[0]).empty());
    // A removed one is offered again.
    const auto fewer = did (removeHits (added.book, { added.ids[1] }));
    CHECK (labels (proposedHits (fewer, book.editions[0])) == std::vector<std::string>{ "shot s-3" });
}

TEST_CASE ("A cut has one hit, by whichever edge it was noted")
{
    const Book book = smallBook();
    const auto left = [&] (const film::Place& place)
    {
        const auto edited = did (addHits (book, "anna", { hitAt (place) }));
        return labels (proposedHits (edited.book, book.editions[0]));
    };
    using film::Edge;
    using film::EdgePlace;
    const std::vector<std::string> noThird{ "Meanwhile, at the mill \xe2\x80\xa6", "card s-4", "shot s-5" };
    CHECK (left (EdgePlace{ "s-3", Edge::head, std::int64_t{ 0 }, 0 }) == noThird);
    CHECK (left (EdgePlace{ "s-3", Edge::head, Rational (0), 0 }) == noThird);
    CHECK (left (EdgePlace{ "s-2", Edge::tail, std::int64_t{ 0 }, 0 }) == noThird);
    CHECK (left (EdgePlace{ "s-3", Edge::head, std::int64_t{ 3 }, 0 }).size() == 4);
    CHECK (left (EdgePlace{ "s-3", Edge::head, std::int64_t{ 0 }, 1 }).size() == 4);
    CHECK (left (picture (190)).size() == 4);
}

TEST_CASE ("No cut is proposed at picture start or at the head of black: a card that opens the film is")
{
    Book book = smallBook();
    auto editions = book.editions.list();
    auto& shots = editions[0].shots;
    auto black = shot ("s-6", 400, 410);
    black.kind = film::ShotKind::black;
    shots = { shots[1], shots[0], black, shots[4], shots[0] };
    book.editions = editions;
    const auto hits = proposedHits (book, editions[0]);
    CHECK (labels (hits) == std::vector<std::string>{ "Meanwhile, at the mill \xe2\x80\xa6", "shot s-1", "shot s-5", "shot s-1" });
    CHECK (std::get<film::EdgePlace> (hits[1].place).instance == 0);
    CHECK (std::get<film::EdgePlace> (hits[3].place).instance == 1); // the second use of the same shot is a cut of its own
    const auto timings = timed (book);
    CHECK (timings.find (hits[3].place)->shot == 4);
    CHECK (proposedHits (did (addHits (book, "scan", hits)).book, editions[0]).empty());
}
