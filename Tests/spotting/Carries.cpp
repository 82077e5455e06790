#include "Catch.h"
#include "SmallBook.h"
#include "spotting/Carry.h"
#include "spotting/RecutEdit.h"
#include "spotting/RecutRows.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;
using spotting::Fate;

namespace
{
film::Place edge (const std::string& shot, film::Edge which, std::int64_t offset = 0, int instance = 0)
{
    return film::EdgePlace{ shot, which, offset, instance };
}

spotting::Book bookOf (film::Edition before, film::Edition after, std::vector<spotting::HitPoint> hits,
                       const std::string& rate = "24")
{
    spotting::Book book;
    book.prints = std::vector<film::Print>{ print (10000), print (10000, "p2") };
    after.letter = "B";
    after.parent = "A";
    book.editions = std::vector<film::Edition>{ std::move (before), std::move (after) };
    book.delivery = delivery (rate);
    return did (spotting::addHits (book, "anna", std::move (hits))).book;
}

/// Handbook 11.1: old A0+48 B0+72 C0+24 D0+96 E0+60, new A0+48 B12+60 D0+96 C0+24 X0+36 E0+50; each shot has a thousand
/// frames of the print for itself.
film::Edition oldCut()
{
    return edition (
        { shot ("A", 0, 48), shot ("B", 1000, 1072), shot ("C", 2000, 2024), shot ("D", 3000, 3096), shot ("E", 4000, 4060) });
}
film::Edition newCut()
{
    return edition ({ shot ("A", 0, 48), shot ("B", 1012, 1072), shot ("D", 3000, 3096), shot ("C", 2000, 2024),
                      shot ("X", 5000, 5036), shot ("E", 4000, 4050) });
}
} // namespace

TEST_CASE ("Handbook 11.1: hits go with their pictures, and an interval that changed is told")
{
    const auto book = bookOf (oldCut(), newCut(),
                              { hitAt (picture (0)), hitAt (picture (47)), hitAt (picture (1000)), hitAt (picture (1012)),
                                hitAt (picture (1071)), hitAt (picture (2000)), hitAt (picture (3000)), hitAt (picture (3095)),
                                hitAt (picture (4049)), hitAt (picture (4050)) });
    const auto all = did (spotting::carry (book, "A", "B"));
    REQUIRE (all.hits.size() == 10);
    // Of the same picture: 0 to 0, 47 to 47, 48 lost, 60 to 48, 119 to 107, 120 to 204, 144 to 108, 239 to 203, 289 to 313, 290
    // lost.
    const std::vector<std::optional<std::int64_t>> by{ 0, 0, {}, -12, -12, 84, -36, -36, 24, {} };
    for (std::size_t i = 0; i < by.size(); ++i)
    {
        INFO ("hit " << i);
        if (! by[i])
        {
            CHECK (all.hits[i].place.fate == Fate::lost);
            CHECK_FALSE (all.hits[i].lastPicture.empty());
            continue;
        }
        CHECK (all.hits[i].place.frames == *by[i]);
        CHECK (all.hits[i].place.fate == (*by[i] == 0 ? Fate::unmoved : Fate::moved));
    }
    CHECK (all.hits[1].interval == 0);
    CHECK (all.hits[3].interval == -12); // since the hit at 47, across the one that is lost
    CHECK (all.hits[4].interval == 0);
    CHECK (all.hits[5].interval == 96);
    CHECK (all.hits[6].interval == -120);
    // Lost hits stay in the book.
    CHECK (book.hits.size() == 10);

    const auto rows = spotting::recutRows (book.editions[0], book.editions[1], all.changes);
    std::vector<std::string> said;
    for (const auto& row : rows)
        said.push_back (row.shot + " " + spotting::whatText (row));
    CHECK (said == std::vector<std::string>{ "A kept", "B kept, head -12", "D kept", "C moved", "X new", "E kept, tail -10" });
}

TEST_CASE ("WORKED E: a film frame removed earlier is phase, not a changed interval")
{
    const auto book = bookOf (edition ({ shot ("A", 0, 1000) }), edition ({ shot ("A", 1, 1000) }),
                              { hitAt (picture (100)), hitAt (picture (101)), hitAt (picture (102)) });
    const auto all = did (spotting::carry (book, "A", "B"));
    const std::vector<std::int64_t> before{ 134, 135, 136 }, after{ 132, 134, 135 }, moved{ -2, -1, -1 };
    for (std::size_t i = 0; i < 3; ++i)
    {
        INFO ("hit " << i);
        CHECK (all.hits[i].place.before->delivered == before[i]);
        CHECK (all.hits[i].place.after->delivered == after[i]);
        CHECK (all.hits[i].place.delivered == moved[i]);
        CHECK (all.hits[i].place.frames == -1);
    }
    CHECK (all.hits[1].interval == 0);
    CHECK (all.hits[1].phase);
    CHECK (all.hits[2].interval == 0);
    CHECK_FALSE (all.hits[2].phase);
}

TEST_CASE ("WORKED L: a hit on a cut stays on it when the picture is trimmed: one on a remade card keeps its seconds")
{
    auto card = shot ("K", 2000, 2090);
    card.kind = film::ShotKind::card;
    const auto book = bookOf (
        edition ({ shot ("A", 0, 50), shot ("B", 1000, 1072), card, shot ("C", 3000, 3100) }),
        edition ({ shot ("A", 0, 50), shot ("B", 1012, 1072), made ("K", time::Rational (126, 18)), shot ("C", 3000, 3100) }),
        { hitAt (edge ("B", film::Edge::head)), hitAt (picture (1040)), hitAt (edge ("K", film::Edge::tail, -6)),
          hitAt (edge ("C", film::Edge::head)) });
    const auto all = did (spotting::carry (book, "A", "B"));
    CHECK (all.hits[0].place.fate == Fate::unmoved);
    CHECK (all.hits[0].place.trimmed == 12);
    CHECK (all.hits[1].place.frames == -12);
    CHECK (all.hits[1].place.trimmed == 0);
    // 50 + 60 film frames at 18 and 126/18 s less 6/18 s.
    REQUIRE (all.hits[2].place.after);
    CHECK (all.hits[2].place.after->delivered == film::deliveredFrame (time::Rational (110 + 126 - 6, 18), 24));
    CHECK (all.hits[3].place.after->delivered == film::deliveredFrame (time::Rational (110 + 126, 18), 24));
    const auto rows = spotting::recutRows (book.editions[0], book.editions[1], all.changes);
    REQUIRE (rows.size() == 4);
    CHECK (spotting::whatText (rows[2]) == "remade");
}

TEST_CASE ("A cue says what happened inside it, in frames, seconds and bars: nothing is reassigned")
{
    auto book = bookOf (oldCut(), newCut(), {});
    auto cue = cueOver (picture (0), edge ("E", film::Edge::head), "1M1");
    cue.tempo = did (music::TempoMap::steady (120));
    auto other = cueOver (picture (2000), picture (3090), "1M2");
    book = did (spotting::addCue (book, "anna", cue, timed (book))).book;
    book = did (spotting::addCue (book, "anna", other, timed (book))).book;
    auto hit = hitAt (picture (2010), "in C");
    hit.cue = book.cues[1].id;
    book = did (spotting::addHits (book, "anna", { hit })).book;
    const auto all = did (spotting::carry (book, "A", "B"));
    REQUIRE (all.cues.size() == 2);
    const auto& first = all.cues[0];
    CHECK (first.frames == 24);
    // Film frames 48 to 60 out after 48/18 s (beat 5 1/3 at two a second: bar 2 beat 2); C's 24 out of its place; then C and X in.
    std::int64_t sum = 0;
    for (const auto& change : first.inside)
        sum += change.in - change.out;
    CHECK (sum == 24);
    REQUIRE (first.inside.size() == 3);
    CHECK (first.inside[0].oldFrame == 48);
    CHECK (first.inside[0].out == 12);
    CHECK (first.inside[0].in == 0);
    CHECK (first.inside[0].seconds == time::Rational (-12, 18));
    CHECK (first.inside[0].bar == "bar 2 beat 2+1/4");
    CHECK (first.inside[1].out == 24);
    CHECK (first.inside[2].in == 60);
    CHECK (first.inside[2].out == 0);
    // C moved behind D: this cue now ends before it begins.
    CHECK (std::any_of (all.conflicts.begin(), all.conflicts.end(),
                        [] (const std::string& text) { return text.find ("cue 1M2 ends before it begins") != std::string::npos; }));
    CHECK (book.hits[0].cue == book.cues[1].id);
}

TEST_CASE ("Places of one print are found in an edition made of another")
{
    auto book = bookOf (edition ({ shot ("A", 0, 100), shot ("B", 500, 600) }),
                        edition ({ shot ("B", 40, 140, "p2"), shot ("A", 140, 235, "p2") }),
                        { hitAt (picture (10)), hitAt (picture (97)), hitAt (picture (550)) });
    book.samePictures = std::vector<film::SamePictures>{ { "p2", 40, "p1", 500, 100, {} }, { "p2", 140, "p1", 0, 95, {} } };
    const auto all = did (spotting::carry (book, "A", "B"));
    CHECK (all.hits[0].place.after->filmFrame == 110);
    CHECK (all.hits[1].place.fate == Fate::lost);
    CHECK (all.hits[2].place.after->filmFrame == 50);
    CHECK (all.hits[2].place.after->sourceFrame == 90);
}

TEST_CASE ("A decision settles a pending match, once")
{
    auto after = edition ({ shot ("A", 0, 100, "p2"), shot ("scan-9", 100, 200, "p2") });
    auto book = bookOf (edition ({ shot ("A", 0, 100), shot ("B", 500, 600) }), after,
                        { hitAt (edge ("B", film::Edge::head)), hitAt (picture (520)) });
    book.samePictures = std::vector<film::SamePictures>{ { "p2", 0, "p1", 0, 100, {} } };
    book.recuts = std::vector<spotting::Recut>{
        { "A",
          "B",
          { { "B-1", spotting::Doubt::shot, "p2", 100, "p1", 500, 100, "scan-9", "B", 400, spotting::Answer::pending, 0, {} } },
          {} }
    };
    CHECK (did (spotting::carry (book, "A", "B")).hits[0].place.fate == Fate::lost);
    CHECK (spotting::pendingMatches (book).size() == 1);
    const auto settled = did (spotting::settle (book, { { "B-1", spotting::Answer::same, 3 } }));
    CHECK (spotting::pendingMatches (settled).empty());
    const auto all = did (spotting::carry (settled, "A", "B"));
    CHECK (all.hits[0].place.fate == Fate::unmoved);
    CHECK (all.hits[1].place.after->filmFrame == 117);
    CHECK_FALSE (spotting::settle (settled, { { "B-1", spotting::Answer::other, 0 } }));
    CHECK_FALSE (spotting::settle (book, { { "B-7", spotting::Answer::other, 0 } }));
    CHECK_FALSE (spotting::settle (book, { { "B-1", spotting::Answer::same, 100000 } }));
    const auto parted = did (spotting::settle (book, { { "B-1", spotting::Answer::other, 0 } }));
    CHECK (did (spotting::carry (parted, "A", "B")).hits[1].place.fate == Fate::lost);
}

TEST_CASE ("A decision about a few frames of a shot, where it dissolves into another, leaves the shot what it is")
{
    // B's last twelve film frames in the new print may as well be those of C, which is gone.
    auto book =
        bookOf (edition ({ shot ("A", 0, 100), shot ("B", 100, 200), shot ("C", 200, 300) }),
                edition ({ shot ("A", 0, 100, "p2"), shot ("B", 100, 200, "p2") }), { hitAt (edge ("B", film::Edge::head)) });
    book.samePictures = std::vector<film::SamePictures>{ { "p2", 0, "p1", 0, 188, {} }, { "p2", 188, "p1", 188, 12, {} } };
    book.recuts = std::vector<spotting::Recut>{
        { "A",
          "B",
          { { "B-1", spotting::Doubt::frame, "p2", 188, "p1", 188, 12, "B", "B", 500, spotting::Answer::pending, 0, {} } },
          {} }
    };
    const auto idsOf = [] (const spotting::Book& of)
    {
        std::string ids;
        for (const auto& shot : of.editions[1].shots)
            ids += shot.id + " ";
        return ids;
    };
    const auto other = did (spotting::settle (book, { { "B-1", spotting::Answer::other, 0 } }));
    CHECK (idsOf (other) == "A B ");
    CHECK (did (spotting::carry (other, "A", "B")).changes.newFrames == 200);
    CHECK (did (spotting::carry (other, "A", "B")).hits[0].place.fate == Fate::unmoved);
    const auto moved = did (spotting::settle (book, { { "B-1", spotting::Answer::same, 20 } }));
    CHECK (idsOf (moved) == "A B ");
    CHECK (moved.samePictures[1].otherFirst == 208);
    // One that says it of the whole shot makes it another.
    auto recuts = book.recuts.list();
    recuts[0].matches[0].first = recuts[0].matches[0].otherFirst = 100;
    recuts[0].matches[0].frames = 100;
    book.recuts = recuts;
    CHECK (idsOf (did (spotting::settle (book, { { "B-1", spotting::Answer::other, 0 } }))) != "A B ");
}
