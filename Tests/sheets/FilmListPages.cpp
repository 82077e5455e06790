// The title list and the source list: what they say of every card and shot.
#include "exchange/Golden.h"
#include "sheets/SheetText.h"

#include "sheets/FilmLists.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
const sheets::SheetHead a4{ "The Runaway Ladder", "2026-05-01", sheets::Paper::a4 };
} // namespace

TEST_CASE ("title list and source list hold every card and every shot")
{
    const auto book = tests::comedy ("25");
    const auto times = tests::timed (book);
    holds (textOf (sheets::titleList (book, times, a4)),
           { "Anton has borrowed the only ladder in town.", "6.00 s", "120 film frames", "Meanwhile, at the bakery in Łódź" });
    const auto sources = textOf (sheets::sourceList (times, a4));
    for (const auto& shot : times.timings.edition().shots)
        holds (sources, { std::to_string (shot.first), std::to_string (shot.frames()) });
    holds (sources, { "Print one", "reel.mp4", "card", "0 made, 0 remade" });
}

TEST_CASE ("a source list says which reel, what was made or remade, and why")
{
    auto book = tests::comedy ("25");
    auto prints = book.prints.list();
    auto second = prints[0].reels[0];
    // The print in two files: its second one begins with film frame 100 of the print.
    prints[0].reels[0].cadence = film::Cadence::oneToOne (100);
    second.cadence = film::Cadence::oneToOne (film::filmFramesOf (book.prints[0]) - 100);
    second.path = "second.mp4";
    prints[0].reels.push_back (second);
    book.prints = prints;
    auto editions = book.editions.list();
    auto& shots = editions[0].shots;
    std::size_t later = 0;
    while (shots[later].first < 100)
        ++later;
    shots[later].remade = true;
    shots[later].reason = "retranslated; the old card misses a line";
    film::Shot made;
    made.id = "made-1";
    made.name = "black";
    made.kind = film::ShotKind::black;
    made.made = Rational (3, 2);
    for (int i = 0; i < 60; ++i)
        made.reason += "a reason of many words ";
    shots.push_back (made);
    book.editions = editions;
    const auto sheet = sheets::sourceList (tests::timed (book), a4);
    const auto text = textOf (sheet);
    holds (text,
           { "1 made, 1 remade", "retranslated; the old card misses a line", "second.mp4", "1.50 s", "a reason of many words" });
    // On the row: made or remade, reel 2, the frame of that reel.
    const auto rowOf = [&] (const std::string& name)
    {
        const auto at = text.find (name);
        return text.substr (text.rfind ('\n', at) + 1, text.find ('\n', at) - text.rfind ('\n', at) - 1);
    };
    const auto row = rowOf (" remade ");
    holds (row, { "Print one", " 2 ", "second.mp4", std::to_string (shots[later].first - 100) });
    CHECK (has (rowOf ("1.50 s"), " made "));
    std::size_t words = 0;
    for (const auto& page : tests::boxesOf (sheet->pdf))
        for (const auto& word : page)
            words += word.text == "many" ? 1 : 0;
    CHECK (words == 60);
}
