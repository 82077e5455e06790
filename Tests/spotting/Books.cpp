#include "SmallBook.h"

using namespace shutterbeat;
using namespace shutterbeat::spotting;
using namespace shutterbeat::tests;
using time::Rational;

TEST_CASE ("A book is a value: copies share what neither has changed")
{
    const Book book = spottedBook();
    const Book changed = setTitle (book, "Another");
    CHECK (changed != book);
    CHECK (changed.hits.sharesWith (book.hits));
    CHECK (changed.prints.sharesWith (book.prints));
    const Book fewer = did (removeHits (book, { book.hits[0].id }));
    CHECK_FALSE (fewer.hits.sharesWith (book.hits));
    CHECK (fewer.cues.sharesWith (book.cues));
    CHECK (fewer.editions.sharesWith (book.editions));
    Section<int> a (std::vector<int>{ 1, 2 }), b (std::vector<int>{ 1, 2 });
    CHECK (a == b);
    CHECK_FALSE (a.sharesWith (b));
}

TEST_CASE ("Editions, hits and cues by id: cues also by number")
{
    Book book = spottedBook();
    CHECK (editionOf (book, "A") != nullptr);
    CHECK (editionOf (book, "B") == nullptr);
    CHECK (hitOf (book, "anna-2")->label == "the card");
    CHECK (hitOf (book, "anna-99") == nullptr);
    CHECK (cueOf (book, "bo-1")->number == "1M2");
    CHECK (cueNamed (book, "1M2")->id == "bo-1");
    CHECK (cueNamed (book, "bo-1")->id == "bo-1");
    CHECK_FALSE (cueNamed (book, "9M9"));
    auto second = *cueOf (book, "bo-1");
    second.number = "1M1";
    book = did (setCue (book, second, timed (book)));
    const auto two = cueNamed (book, "1M1");
    REQUIRE_FALSE (two);
    CHECK (two.error().text().find ("anna-1") != std::string::npos);
    CHECK (two.error().text().find ("bo-1") != std::string::npos);
}

TEST_CASE ("What a list asks for is laid over the book and leaves it alone")
{
    const Book book = smallBook();
    const Book copy = book;
    Asked asked;
    asked.running = Rational (20);
    asked.rate = time::Rate{ Rational (30000, 1001), true };
    auto timings = did (spotting::timingsOf (book, asked));
    CHECK (film::speedOf (timings.edition(), timings.edition().shots[0]) == Rational (20));
    CHECK (timings.delivery().from == Rational (30)); // its usual fill comes with it
    asked.fill = std::optional<Rational>{};
    timings = did (spotting::timingsOf (book, asked));
    CHECK_FALSE (timings.delivery().from.has_value());
    CHECK (book == copy);
    asked.edition = "Q";
    const auto none = spotting::timingsOf (book, asked);
    REQUIRE_FALSE (none);
    CHECK (none.error().text().find ("Q") != std::string::npos);
}
