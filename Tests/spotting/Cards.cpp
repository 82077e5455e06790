#include "Catch.h"

#include "SmallBook.h"
#include "spotting/CardEdit.h"
#include "spotting/CardRegister.h"
#include "spotting/ShotEdit.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;
using spotting::CardText;

namespace
{
const std::string mill = "Meanwhile, at the mill \xe2\x80\xa6"; // what the small book's card s-2 says

CardText reading (const std::string& text, const std::string& print = "p1", bool doubtful = false)
{
    CardText read;
    read.text = text;
    read.print = print;
    read.language = "eng";
    read.sure = doubtful ? 510 : 960;
    read.doubtful = doubtful;
    return read;
}

spotting::Book unreadBook()
{
    return did (spotting::setShots (smallBook(), "A", { "s-2" }, { {}, {}, std::string(), {}, {}, {}, {} }));
}

std::string wordingIn (const spotting::Book& book)
{
    return book.editions[0].shots[1].wording;
}
} // namespace

TEST_CASE ("a reading becomes the wording of a card that has none, and a better one takes its place")
{
    auto done = did (spotting::withReadings (unreadBook(), { { "s-2", reading ("Mcanwhile", "p1", true) } }));
    CHECK (wordingIn (done.book) == "Mcanwhile");
    CHECK (done.taken == 1);
    CHECK (done.doubtful == 1);
    CHECK (spotting::cardLabel (done.book, done.book.editions[0].shots[1]) == "Mcanwhile (?)");

    done = did (spotting::withReadings (done.book, { { "s-2", reading ("Meanwhile") } }));
    CHECK (wordingIn (done.book) == "Meanwhile");
    CHECK (done.doubtful == 0);
    REQUIRE (spotting::cardOf (done.book, "s-2") != nullptr);
    CHECK (spotting::cardOf (done.book, "s-2")->texts.size() == 1);
    CHECK (spotting::cardLabel (done.book, done.book.editions[0].shots[1]) == "Meanwhile");

    // Less sure in another language: kept beside.
    auto other = reading ("Mean while", "p1", true);
    other.language = "dan";
    done = did (spotting::withReadings (done.book, { { "s-2", other } }));
    CHECK (wordingIn (done.book) == "Meanwhile");
    CHECK (done.kept == 1);
    CHECK (spotting::cardOf (done.book, "s-2")->texts.size() == 2);
}

TEST_CASE ("a person's wording stands whatever is read, however it was given")
{
    // As the shot's wording, before there was a register.
    auto done = did (spotting::withReadings (smallBook(), { { "s-2", reading ("Meanvvhile") } }));
    CHECK (wordingIn (done.book) == mill);
    CHECK (done.kept == 1);
    // In the register.
    auto book = did (spotting::setCardWording (done.book, "s-2", "Meanwhile, at the mill:"));
    done = did (spotting::withReadings (book, { { "s-2", reading ("Meanwhile, at the miII:") } }));
    CHECK (wordingIn (done.book) == "Meanwhile, at the mill:");
    // A reading that was confirmed counts as a person's.
    book = did (spotting::withReadings (unreadBook(), { { "s-2", reading ("Meanwhile", "p1", true) } })).book;
    book = did (spotting::chooseCardWording (book, "s-2", 1));
    CHECK (spotting::cardLabel (book, book.editions[0].shots[1]) == "Meanwhile");
    done = did (spotting::withReadings (book, { { "s-2", reading ("Meanwhil") } }));
    CHECK (wordingIn (done.book) == "Meanwhile");
}

TEST_CASE ("a wording of another print stands beside, and may be chosen")
{
    auto book = did (spotting::withReadings (unreadBook(), { { "s-2", reading ("Imens, ved m\xc3\xb8llen", "p2") } })).book;
    CHECK (wordingIn (book).empty());
    book = did (spotting::withReadings (book, { { "s-2", reading ("Meanwhile") } })).book;
    CHECK (wordingIn (book) == "Meanwhile");
    book = did (spotting::chooseCardWording (book, "s-2", 1));
    CHECK (wordingIn (book) == "Imens, ved m\xc3\xb8llen");
    book = did (spotting::removeCardWording (book, "s-2", 1));
    CHECK (wordingIn (book).empty());
    REQUIRE (spotting::cardOf (book, "s-2")->texts.size() == 1);
    CHECK (spotting::cardOf (book, "s-2")->texts[0].text == "Meanwhile");
    book = did (spotting::removeCardWording (book, "s-2", {}));
    CHECK (spotting::cardOf (book, "s-2") == nullptr);
    CHECK_FALSE (spotting::chooseCardWording (book, "s-2", 1));
}

TEST_CASE ("after a recut a card is read from the print of the edition worked on")
{
    auto book = unreadBook();
    auto editions = book.editions.list();
    editions.push_back (editions[0]);
    editions[1].letter = "B";
    for (auto& shot : editions[1].shots)
        shot.print = "p2";
    book.editions = std::move (editions);
    const auto read = did (spotting::withReadings (book, { { "s-2", reading ("Meanwhile", "p2") } }));
    CHECK (read.taken == 1);
    CHECK (read.book.editions[1].shots[1].wording == "Meanwhile");
}

TEST_CASE ("only cards have wordings, and the others say how they become cards")
{
    const auto refused = spotting::setCardWording (smallBook(), "s-1", "A scene");
    REQUIRE_FALSE (refused);
    CHECK (refused.error().message.find ("--kind card") != std::string::npos);
    CHECK_FALSE (spotting::withReadings (smallBook(), { { "s-99", reading ("x") } }));
}

TEST_CASE ("wordings are undone and done again with the book")
{
    const auto book = unreadBook();
    spotting::History history (book);
    history.did ("read cards", did (spotting::withReadings (book, { { "s-2", reading ("Meanwhile") } })).book, {});
    history.undo();
    CHECK (history.book() == book);
    history.redo();
    CHECK (wordingIn (history.book()) == "Meanwhile");
}

TEST_CASE ("a hit proposed on a card takes its wording as label until a person touches it")
{
    auto book = unreadBook();
    book = did (spotting::addHits (book, "anna", spotting::proposedHits (book, book.editions[0]))).book;
    const auto labelled = [&] (const spotting::Book& in)
    {
        for (const auto& hit : in.hits)
            if (hit.kind == spotting::HitKind::card)
                if (const auto* edge = std::get_if<film::EdgePlace> (&hit.place); edge != nullptr && edge->shot == "s-2")
                    return hit;
        return spotting::HitPoint{};
    };
    CHECK (labelled (book).label == "card " + book.editions[0].shots[1].name);
    book = did (spotting::withReadings (book, { { "s-2", reading ("Mean-\nwhile, at\nthe mill", "p1", true) } })).book;
    CHECK (labelled (book).label == "Meanwhile, at the mill (?)");
    book = did (spotting::setCardWording (book, "s-2", "Meanwhile"));
    CHECK (labelled (book).label == "Meanwhile");
    auto own = labelled (book);
    own.label = "the mill";
    own.fromScan = false;
    book = did (spotting::setHit (book, own));
    book = did (spotting::setCardWording (book, "s-2", "At the mill"));
    CHECK (labelled (book).label == "the mill");
}

TEST_CASE ("a cue plays until the card that begins where it goes out")
{
    const auto book = smallBook();
    const auto& edition = book.editions[0];
    CHECK (spotting::untilText (book, edition, headOf ("s-2")) == mill);
    CHECK (spotting::untilText (book, edition, film::EdgePlace{ "s-1", film::Edge::tail, std::int64_t{ 0 }, 0 }) == mill);
    CHECK (spotting::untilText (book, edition, film::EdgePlace{ "s-2", film::Edge::head, std::int64_t{ 3 }, 0 }).empty());
    CHECK (spotting::untilText (book, edition, headOf ("s-3")).empty());
    CHECK (spotting::untilText (book, edition, picture (100)).empty());
}

TEST_CASE ("the register tells length, feet, words and whether a card can be read")
{
    // 90 film frames at 18 are 5 seconds and 5 10/16 feet of 35 mm.
    auto book = did (spotting::setCardWording (smallBook(), "s-2", "Meanwhile Rosa reaches windmill number nine"));
    const auto rows = spotting::cardRows (book, timed (book));
    REQUIRE (rows.size() == 2); // the made one without a wording is a card too
    CHECK (rows[1].readable.empty());
    const auto& row = rows[0];
    CHECK (row.seconds == time::Rational (5));
    CHECK (row.feet == time::Rational (90, 16));
    CHECK (row.words == 6);
    CHECK_FALSE (row.flash);
    REQUIRE (row.chosen.has_value());
    CHECK (row.chosen->byHand);
    REQUIRE (row.readable.size() == 4);
    CHECK (row.readable[0].needed == time::Rational (6 * 16, 18)); // 6 ft: 5.33 s
    CHECK_FALSE (row.readable[0].enough);
    CHECK (row.readable[1].needed == time::Rational (24, 5)); // twice 6 words at 150 a minute
    CHECK (row.readable[1].enough);
    CHECK (row.readable[2].needed == time::Rational (9, 4));
    CHECK (row.readable[3].needed == time::Rational (2));

    // At 16 it stands 5.625 s; six feet are 6 s then: the rule counts film, so the answer is the same at any speed.
    book = did (spotting::setRunningSpeed (book, "A", time::Rational (16)));
    CHECK_FALSE (spotting::cardRows (book, timed (book))[0].readable[0].enough);
    // Without a wording nothing is said.
    CHECK (spotting::cardRows (unreadBook(), timed (unreadBook()))[0].readable.empty());
}

TEST_CASE ("a made card keeps its seconds, and a flash title is one")
{
    auto book = did (
        spotting::setShots (smallBook(), "A", { "s-4" }, { film::ShotKind::card, {}, std::string ("The End"), {}, {}, {}, {} }));
    auto rows = spotting::cardRows (book, timed (book));
    REQUIRE (rows.size() == 2);
    CHECK (rows[1].seconds == time::Rational (4));
    CHECK (rows[1].feet == time::Rational (4 * 18, 16));
    CHECK_FALSE (rows[1].flash);

    auto editions = book.editions.list();
    editions[0].shots[1].end = 104;
    book.editions = editions;
    rows = spotting::cardRows (book, timed (book));
    CHECK (rows[0].flash);
}
