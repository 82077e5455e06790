#include "../spotting/SmallBook.h"
#include "spotting/CardEdit.h"
#include "spotting/Merge.h"
#include "spotting/ShotEdit.h"
#include "spotting/WorkEdit.h"
#include "store/BookFile.h"

#include <nlohmann/json.hpp>
#include <rapidcheck.h>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using nlohmann::json;
using spotting::Book;
using time::Rational;

namespace
{
/// Every leaf of a book file by its path, things named by their ids: independent of how the merge walks the book.
using Leaves = std::map<std::string, std::string>;

std::string nameOf (const json& thing)
{
    for (const char* member : { "id", "letter", "code" })
        if (thing.contains (member))
            return thing[member].get<std::string>();
    return "";
}

void flatten (const json& at, const std::string& path, Leaves& leaves)
{
    // Values that are one thing: half of one place and half of another would be nowhere.
    const auto last = path.substr (path.rfind ('/') + 1);
    const bool whole = last == "place" || last == "in" || last == "out" || last == "tempo_map" || last == "bar_one"
                       || last == "reels" || last == "scanned" || last == "writers" || last == "publishers";
    if (at.is_object() && ! whole)
        for (const auto& [name, value] : at.items())
            flatten (value, path + "/" + name, leaves);
    else if (at.is_array() && ! whole)
        for (const auto& one : at)
            if (const auto name = one.is_object() ? nameOf (one) : ""; ! name.empty())
            {
                leaves[path + "/" + name] = "there";
                flatten (one, path + "/" + name, leaves);
            }
            else if (one.is_object() && one.contains ("shot"))
            {
                for (const auto& wording : one["wordings"])
                    leaves[path + "/" + one["shot"].get<std::string>() + "/" + wording.dump()] = "there";
            }
            else
                leaves[path + "/" + one.dump()] = "there";
    else
        leaves[path] = at.dump();
}

Leaves leavesOf (const Book& book)
{
    Leaves leaves;
    flatten (json::parse (store::bookText (book)), "", leaves);
    // Counters only rise, and the two parts of a delivery are one thing.
    std::erase_if (leaves, [] (const auto& leaf) { return leaf.first.find ("/last_number") != std::string::npos; });
    leaves["/final_rate"] += leaves["/fill"];
    leaves.erase ("/fill");
    return leaves;
}

std::string leafAt (const Leaves& leaves, const std::string& path)
{
    const auto found = leaves.find (path);
    return found == leaves.end() ? "(absent)" : found->second;
}

/// Whether a conflict that was listed speaks of what lies at a path.
bool isListed (const spotting::Merged& merged, const std::string& path)
{
    return std::any_of (merged.conflicts.begin(), merged.conflicts.end(),
                        [&] (const spotting::MergeConflict& conflict)
                        {
                            const auto dot = conflict.key.find ('.');
                            const auto thing = conflict.key.substr (0, dot);
                            if (thing == "book")
                                return path == "/" + conflict.field || (conflict.field == "delivery" && path == "/final_rate");
                            if (thing == "edition")
                                return path.find ("/editions/") == 0;
                            return path.find ("/" + thing) != std::string::npos;
                        });
}

/// What a test found to be wrong with a merge; empty when every change of either side is in it or listed.
std::string vanished (const Book& base, const Book& mine, const Book& theirs, const spotting::Merged& merged)
{
    const auto b = leavesOf (base), m = leavesOf (mine), t = leavesOf (theirs), x = leavesOf (merged.book);
    std::set<std::string> paths;
    for (const auto* leaves : { &b, &m, &t, &x })
        for (const auto& [path, value] : *leaves)
            paths.insert (path);
    for (const auto& path : paths)
    {
        const auto before = leafAt (b, path), here = leafAt (m, path), there = leafAt (t, path), got = leafAt (x, path);
        const auto wanted = here == there || there == before ? here : here == before ? there : "(conflict)";
        if (got != wanted && ! isListed (merged, path))
            return path + ": was " + before + ", mine " + here + ", theirs " + there + ", merged " + got;
    }
    return "";
}

/// One random edit by a person; what the book refuses is no edit.
Book edited (const Book& book, const std::string& person)
{
    const auto number = [] (int below) { return *rc::gen::inRange (0, below); };
    const auto word = [&] { return std::string (1, static_cast<char> ('a' + number (20))) + person; };
    const auto anyPlace = [&]
    { return number (2) == 0 ? picture (number (400)) : headOf ("s-" + std::to_string (1 + number (5))); };
    const auto timings = spotting::timingsOf (book);
    const auto keep = [&] (const Result<Book>& result) { return result ? *result : book; };
    const auto keepEdited = [&] (const Result<spotting::Edited>& result) { return result ? result->book : book; };
    auto hit = book.hits.empty() ? spotting::HitPoint{} : book.hits[static_cast<std::size_t> (number (int (book.hits.size())))];
    auto cue = book.cues.empty() ? spotting::Cue{} : book.cues[static_cast<std::size_t> (number (int (book.cues.size())))];
    auto changed = book;
    switch (number (26))
    {
    case 0:
        hit.label = word();
        return keep (spotting::setHit (book, hit));
    case 1:
        hit.weight = spotting::Weight (number (3));
        hit.agreed = number (2) == 0;
        return keep (spotting::setHit (book, hit));
    case 2:
        hit.place = anyPlace();
        return keep (spotting::setHit (book, hit));
    case 3:
        hit.note = word();
        hit.lead = Rational (number (9), 7);
        return keep (spotting::setHit (book, hit));
    case 4:
    case 5:
    {
        auto fresh = hitAt (anyPlace(), word());
        fresh.cue = cue.id;
        return keepEdited (spotting::addHits (book, person, { fresh }));
    }
    case 6:
    case 7:
        return keep (spotting::removeHits (book, { hit.id }));
    case 8:
        cue.title = word();
        return timings ? keep (spotting::setCue (book, cue, *timings)) : book;
    case 9:
        cue.tempo = *music::TempoMap::steady (60 + number (100));
        cue.barOne.hit = hit.id;
        return timings ? keep (spotting::setCue (book, cue, *timings)) : book;
    case 10:
        cue.in = anyPlace();
        return timings ? keep (spotting::setCue (book, cue, *timings)) : book;
    case 11:
        return timings
                   ? keepEdited (spotting::addCue (book, person, cueOver (picture (number (100)), picture (300), word()), *timings))
                   : book;
    case 12:
        return keep (spotting::removeCues (book, { cue.id }));
    case 13:
    case 14:
    {
        spotting::ShotWords words;
        words.wording = word();
        words.kind = film::ShotKind::card;
        words.remade = number (2) == 0;
        words.reason = word();
        return keep (spotting::setShots (book, "A", { "s-" + std::to_string (1 + number (5)) }, words));
    }
    case 15:
        return keepEdited (spotting::splitShot (book, person, "p1", number (400)));
    case 16:
        return keep (spotting::joinShot (book, "A", "s-" + std::to_string (1 + number (5))));
    case 17:
        return keep (spotting::moveCut (book, "A", "s-" + std::to_string (1 + number (5)), number (20) - 10));
    case 18:
        return spotting::setTitle (book, word());
    case 19:
        return spotting::setDelivery (book, { { Rational (24 + number (3)), false }, {} });
    case 20:
    {
        spotting::Work work;
        work.title = word();
        return keepEdited (spotting::addWork (book, person, work));
    }
    case 21:
        if (! book.works.empty())
            return keep (spotting::setUses (book, cue.id, { { cue.id, book.works[0].id, "BI", {}, {}, {} } }));
        return book;
    case 22:
        return keep (spotting::addCardWording (book, "s-2", { word(), "", "eng", 1000, false, true, {} }));
    case 23:
        changed.production.country = word();
        return changed;
    case 24:
        changed.unknown["later"] = "\"" + word() + "\"";
        return changed;
    default:
    {
        auto works = book.works.list();
        if (works.empty())
            return book;
        return keep (spotting::removeWorks (book, { works[0].id }));
    }
    }
}

Book editedOften (Book book, const std::string& person, int most)
{
    for (int n = *rc::gen::inRange (0, most); n > 0; --n)
        book = edited (book, person);
    return book;
}
} // namespace

TEST_CASE ("Merging two copies: no edit of either side vanishes")
{
    CHECK (rc::check ("every change of either side is in the merged book, or is listed as a conflict",
                      [] (bool crowded)
                      {
                          const auto base = editedOften (spottedBook(), "anna", 6);
                          const auto mine = editedOften (base, "bo", crowded ? 20 : 5);
                          const auto theirs = editedOften (base, "cy", crowded ? 20 : 5);
                          const auto merged = spotting::mergeBooks (base, mine, theirs);
                          RC_ASSERT (merged.ok());
                          RC_ASSERT (vanished (base, mine, theirs, *merged) == "");
                          // The merged book is a book: it can be written, read back and timed.
                          const auto again = store::parseBook (store::bookText (merged->book), "merged");
                          if (! again)
                              RC_FAIL (again.error().text());
                          RC_ASSERT (*again == merged->book);
                      }));
    CHECK (rc::check (
        "one side alone is itself, and the same edits on both sides are no conflict",
        []
        {
            const auto base = editedOften (spottedBook(), "anna", 6);
            const auto changed = editedOften (base, "bo", 12);
            for (const auto& merged : { spotting::mergeBooks (base, changed, base), spotting::mergeBooks (base, changed, changed) })
            {
                RC_ASSERT (merged->conflicts.empty());
                RC_ASSERT (merged->book == changed);
            }
            const auto brought = spotting::mergeBooks (base, base, changed);
            RC_ASSERT (brought->conflicts.empty());
            RC_ASSERT (leavesOf (brought->book) == leavesOf (changed));
            RC_ASSERT (brought->brought.empty() == (leavesOf (base) == leavesOf (changed)));
        }));
}

TEST_CASE ("A conflict is listed by hit and field, mine holds, and a choice settles it")
{
    const auto base = spottedBook();
    auto mineHit = base.hits[1], theirHit = base.hits[1];
    mineHit.label = "the tumble";
    mineHit.note = "louder";
    theirHit.label = "the stumble";
    theirHit.weight = spotting::Weight::must;
    const auto mine = did (spotting::setHit (base, mineHit));
    const auto theirs = did (spotting::setHit (base, theirHit));
    const auto merged = did (spotting::mergeBooks (base, mine, theirs));
    REQUIRE (merged.conflicts.size() == 1);
    const auto& conflict = merged.conflicts[0];
    CHECK (conflict.key == mineHit.id + ".label");
    CHECK (conflict.field == "label");
    CHECK (conflict.base == "\"the fall\"");
    CHECK (conflict.mine == "\"the tumble\"");
    CHECK (conflict.theirs == "\"the stumble\"");
    const auto* hit = spotting::hitOf (merged.book, mineHit.id);
    REQUIRE (hit != nullptr);
    CHECK (hit->label == "the tumble");
    CHECK (hit->note == "louder");
    CHECK (hit->weight == spotting::Weight::must);
    CHECK (merged.brought.size() == 1);

    const auto chosen = did (spotting::mergeBooks (base, mine, theirs, { { conflict.key, true } }));
    CHECK (chosen.conflicts.empty());
    CHECK (chosen.settled.size() == 1);
    CHECK (spotting::hitOf (chosen.book, mineHit.id)->label == "the stumble");
    const auto wrong = spotting::mergeBooks (base, mine, theirs, { { "nobody-1.label", true } });
    REQUIRE (! wrong);
    CHECK (wrong.error().text().find (conflict.key) != std::string::npos);
}

TEST_CASE ("What one side took away and the other changed stays, until somebody chooses")
{
    const auto base = spottedBook();
    auto changed = base.hits[2];
    changed.label = "the kite is torn";
    const auto mine = did (spotting::removeHits (base, { changed.id }));
    const auto theirs = did (spotting::setHit (base, changed));
    const auto merged = did (spotting::mergeBooks (base, mine, theirs));
    REQUIRE (merged.conflicts.size() == 1);
    CHECK (merged.conflicts[0].key == changed.id);
    CHECK (merged.conflicts[0].tookTheirs);
    CHECK (*spotting::hitOf (merged.book, changed.id) == changed);
    const auto gone = did (spotting::mergeBooks (base, mine, theirs, { { changed.id, false } }));
    CHECK (gone.conflicts.empty());
    CHECK (spotting::hitOf (gone.book, changed.id) == nullptr);
    // Taken away by one, untouched by the other: away.
    CHECK (spotting::hitOf (did (spotting::mergeBooks (base, mine, base)).book, changed.id) == nullptr);

    // A cue that one took away while the other put a hit into it.
    const auto cue = base.cues[1].id;
    const auto without = did (spotting::removeCues (base, { cue }));
    auto fresh = hitAt (picture (360), "a new one");
    fresh.cue = cue;
    const auto with = did (spotting::addHits (base, "cy", { fresh })).book;
    const auto kept = did (spotting::mergeBooks (base, without, with));
    CHECK (spotting::cueOf (kept.book, cue) != nullptr);
    REQUIRE (kept.conflicts.size() == 1);
    CHECK (kept.conflicts[0].key == cue);
}

TEST_CASE ("Two people who called themselves the same and counted on: both things stay, theirs under a new id")
{
    const auto base = spottedBook();
    auto inMine = hitAt (picture (20), "mine"), inTheirs = hitAt (picture (30), "theirs");
    const auto mine = did (spotting::addHits (base, "anna", { inMine }));
    auto theirs = did (spotting::addHits (base, "anna", { inTheirs }));
    REQUIRE (mine.ids == theirs.ids);
    auto cue = base.cues[0];
    cue.tempo = *music::TempoMap::steady (90);
    cue.barOne.hit = theirs.ids[0];
    theirs.book = did (spotting::setCue (theirs.book, cue, timed (theirs.book)));
    const auto merged = did (spotting::mergeBooks (base, mine.book, theirs.book));
    CHECK (merged.conflicts.empty());
    CHECK (merged.notes.size() == 1);
    REQUIRE (merged.book.hits.size() == base.hits.size() + 2);
    CHECK (spotting::hitOf (merged.book, mine.ids[0])->label == "mine");
    const auto& moved = merged.book.hits[merged.book.hits.size() - 1];
    CHECK (moved.label == "theirs");
    CHECK (moved.id != mine.ids[0]);
    CHECK (spotting::cueOf (merged.book, cue.id)->barOne.hit == moved.id);
    // The counter is past both: the next id is new to everybody.
    const auto next = did (spotting::addHits (merged.book, "anna", { inMine }));
    CHECK (spotting::hitOf (merged.book, next.ids[0]) == nullptr);
}

TEST_CASE ("Both recut to an edition B: both editions stay, theirs as C with all that speaks of it")
{
    const auto base = spottedBook();
    const auto recut = [&] (std::int64_t end)
    {
        auto book = base;
        auto editions = book.editions.list();
        auto next = editions[0];
        next.letter = "B";
        next.parent = "A";
        next.shots[0].end = end;
        editions.push_back (next);
        book.editions = std::move (editions);
        book.edition = "B";
        return book;
    };
    const auto merged = did (spotting::mergeBooks (base, recut (90), recut (80)));
    REQUIRE (merged.book.editions.size() == 3);
    CHECK (spotting::editionOf (merged.book, "B")->shots[0].end == 90);
    REQUIRE (spotting::editionOf (merged.book, "C") != nullptr);
    CHECK (spotting::editionOf (merged.book, "C")->shots[0].end == 80);
    // Which of them is worked on is a question for a person.
    REQUIRE (merged.conflicts.size() == 1);
    CHECK (merged.conflicts[0].key == "book.edition");
    CHECK (merged.book.edition == "B");
}
