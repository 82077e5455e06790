#include "SmallBook.h"

#include <functional>

using namespace shutterbeat;
using namespace shutterbeat::spotting;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
template <class T>
void refused (const Result<T>& result, const std::string& words)
{
    REQUIRE_FALSE (result);
    INFO (result.error().text());
    CHECK (result.error().text().find (words) != std::string::npos);
}

/// The book without what History keeps: the counters of ids, and a person who only has one.
Book withoutCounters (Book book)
{
    book.people = std::vector<Person>{};
    return book;
}
} // namespace

TEST_CASE ("Every edit leaves its book alone, and undo brings that book back")
{
    const Book before = spottedBook();
    const Book kept = before;
    const auto timings = timed (before);
    auto hit = before.hits[1];
    hit.label = "renamed";
    auto cue = before.cues[0];
    cue.title = "Overture";
    struct Case
    {
        const char* name;
        std::function<Book()> edit;
    };
    const std::vector<Case> edits{
        { "add hits", [&] { return did (addHits (before, "anna", { hitAt (picture (5)) })).book; } },
        { "add hits, new person",
          [&] {
              return did (addHits (before, "cleo", { hitAt (picture (5)), hitAt (headOf ("s-5")) })).book;
          } },
        { "set hit", [&] { return did (setHit (before, hit)); } },
        { "set hits", [&] { return did (setHits (before, { hit })); } },
        { "remove hits",
          [&] {
              return did (removeHits (before, { before.hits[0].id, before.hits[2].id }));
          } },
        { "add cue", [&] { return did (addCue (before, "anna", cueOver (picture (1), picture (2), "1M3"), timings)).book; } },
        { "set cue", [&] { return did (setCue (before, cue, timings)); } },
        { "remove cues", [&] { return did (removeCues (before, { before.cues[0].id })); } },
        { "running speed", [&] { return did (setRunningSpeed (before, "A", Rational (22))); } },
        { "delivery", [&] { return setDelivery (before, delivery ("25 f 24")); } },
        { "title", [&] { return setTitle (before, "Another"); } },
    };
    for (const auto& edit : edits)
    {
        INFO (edit.name);
        const Book after = edit.edit();
        CHECK (before == kept);
        CHECK (after != before);
        History history (before, { before.hits[0].id });
        history.did (edit.name, after, {});
        CHECK (history.book() == after);
        CHECK (history.undoName() == edit.name);
        history.undo();
        CHECK (withoutCounters (history.book()) == withoutCounters (before));
        CHECK (history.selected() == std::vector<std::string>{ before.hits[0].id });
        CHECK (history.redoName() == edit.name);
        history.redo();
        CHECK (history.book() == after);
    }
}

TEST_CASE ("Hits: added with ids of the person, changed, removed")
{
    const Book empty = smallBook();
    const auto one = did (addHits (empty, "anna", { hitAt (picture (5)), hitAt (picture (6)) }));
    CHECK (one.ids == std::vector<std::string>{ "anna-1", "anna-2" });
    CHECK (hitOf (one.book, "anna-2")->place == picture (6));
    const auto two = did (addHits (one.book, "bo", { hitAt (picture (7)) }));
    CHECK (two.ids == std::vector<std::string>{ "bo-1" });
    CHECK (two.book.people.size() == 2);
    CHECK (did (addHits (empty, "nobody", {})).book == empty);

    auto changed = *hitOf (two.book, "anna-1");
    changed.weight = Weight::must;
    changed.lead = Rational (-1, 25);
    const auto book = did (setHit (two.book, changed));
    CHECK (*hitOf (book, "anna-1") == changed);
    CHECK (*hitOf (book, "anna-2") == *hitOf (two.book, "anna-2"));
    const auto fewer = did (removeHits (book, { "anna-1", "bo-1" }));
    CHECK (fewer.hits.size() == 1);
    CHECK (fewer.hits[0].id == "anna-2");

    for (const char* person : { "", "anna b", "anna-b", "\xc3\xa6", "a/b" })
        refused (addHits (empty, person, { hitAt (picture (5)) }), "letters, digits and underscores");
    auto bad = hitAt (picture (5));
    bad.cue = "anna-77";
    refused (addHits (empty, "anna", { bad }), "anna-77");
    bad = hitAt (picture (5));
    bad.earlyMs = -1;
    refused (addHits (empty, "anna", { hitAt (picture (4)), bad }), "milliseconds");
    bad.earlyMs = 40;
    bad.lateMs = -80;
    refused (addHits (empty, "anna", { bad }), "milliseconds");
    bad.lateMs = 80;
    bad.lead = Rational (1, 0);
    refused (addHits (empty, "anna", { bad }), "lead");
    bad.lead = Rational (time::Int128 (1), time::Int128 (1'000'000'000'000'000'000) * 100'000'000'000);
    refused (addHits (empty, "anna", { bad }), "too fine");
    changed.id = "anna-99";
    refused (setHit (book, changed), "anna-99");
    refused (removeHits (book, { "anna-2", "anna-98" }), "anna-98");
    CHECK (book.hits.size() == 3);
}

TEST_CASE ("Cues: an out comes after its in: a removed cue leaves its hits")
{
    const Book book = spottedBook();
    const auto timings = timed (book);
    refused (addCue (book, "anna", cueOver (picture (20), picture (20)), timings), "has to come after");
    refused (addCue (book, "anna", cueOver (picture (20), picture (10)), timings), "01:00:00:14");
    refused (addCue (book, "anna", cueOver (film::OutsidePlace{ true, Rational (1) }, picture (10)), timings), "has to come after");
    auto cue = cueOver (film::OutsidePlace{ false, Rational (-4) }, film::OutsidePlace{ true, Rational (3) });
    CHECK (did (addCue (book, "anna", cue, timings)).ids == std::vector<std::string>{ "anna-5" });
    cue.barOne.seconds = Rational (1, 0);
    refused (addCue (book, "anna", cue, timings), "bar 1");
    cue.barOne.seconds = 0;
    cue.tempo = *music::TempoMap::steady (Rational (120));
    CHECK (addCue (book, "anna", cue, timings));
    cue.id = "anna-55";
    refused (setCue (book, cue, timings), "anna-55");
    // At a rate without timecode the message has clock times.
    const auto silent = timed (setDelivery (book, delivery ("18")));
    refused (addCue (book, "anna", cueOver (picture (36), picture (18)), silent), "0:02.00");

    CHECK (book.hits[0].cue == "anna-1");
    const auto fewer = did (removeCues (book, { "anna-1" }));
    CHECK (fewer.cues.size() == 1);
    CHECK (fewer.hits.size() == book.hits.size());
    CHECK (fewer.hits[0].cue.empty());
    refused (removeCues (book, { "anna-1", "anna-2" }), "anna-2"); // a hit's id is no cue's
    CHECK (did (removeCues (book, { "bo-1" })).hits.sharesWith (book.hits));
}

TEST_CASE ("One running speed for the whole edition")
{
    Book book = spottedBook();
    auto editions = book.editions.list();
    editions[0].shots[2].speed = Rational (22);
    book.editions = editions;
    const auto changed = did (setRunningSpeed (book, "A", Rational (20)));
    for (const auto& shot : changed.editions[0].shots)
        CHECK (film::speedOf (changed.editions[0], shot) == Rational (20));
    CHECK (changed.editions[0].shots[3].made == Rational (4));
    refused (setRunningSpeed (book, "Z", Rational (20)), "Z");
    refused (setRunningSpeed (book, "A", Rational (0)), "above zero");
    refused (setRunningSpeed (book, "A", Rational (1, 0)), "above zero");
}
