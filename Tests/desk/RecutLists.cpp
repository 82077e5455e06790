#include "spotting/SmallBook.h"

#include "desk/RecutFromLists.h"
#include "desk/RecutListFiles.h"
#include "desk/RecutListed.h"
#include "spotting/Carry.h"
#include "spotting/RecutEdit.h"
#include "time/Text.h"
#include "time/Timecode.h"

#include <filesystem>
#include <fstream>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
const time::Rate rate24{ 24, false };

std::string label (std::int64_t frames)
{
    return time::labelOf (frames, rate24).text;
}

/// An event of a list: a stretch of a source.
struct Event
{
    std::string reel;
    std::int64_t in = 0, frames = 0;
    std::string clip = {};
};

std::string cmxOf (const std::vector<Event>& events)
{
    std::string text = "TITLE: LOCK\r\nFCM: NON-DROP FRAME\r\n";
    std::int64_t at = 86400;
    int number = 1;
    for (const auto& e : events)
    {
        auto reel = e.reel;
        reel.resize (8, ' ');
        text += time::padded (number++, 3) + "  " + reel + " V     C        " + label (e.in) + " " + label (e.in + e.frames) + " "
                + label (at) + " " + label (at + e.frames) + "\r\n";
        if (! e.clip.empty())
            text += "* FROM CLIP NAME: " + e.clip + "\r\n";
        at += e.frames;
    }
    return text;
}

std::string otioTime (std::int64_t frames)
{
    return R"({"OTIO_SCHEMA": "RationalTime.1", "rate": 24.0, "value": )" + std::to_string (frames) + "}";
}

std::string otioOf (const std::vector<Event>& events)
{
    std::string clips;
    for (const auto& e : events)
        clips += std::string (clips.empty() ? "" : ", ") + R"({"OTIO_SCHEMA": "Clip.2", "name": ")" + e.clip
                 + R"(", "source_range": {"OTIO_SCHEMA": "TimeRange.1", "start_time": )" + otioTime (e.in) + R"(, "duration": )"
                 + otioTime (e.frames)
                 + R"(}, "media_references": {"DEFAULT_MEDIA": {"OTIO_SCHEMA": "ExternalReference.1", "target_url": ")" + e.reel
                 + R"("}}, "active_media_reference_key": "DEFAULT_MEDIA"})";
    return R"({"OTIO_SCHEMA": "Timeline.1", "name": "lock", "tracks": {"OTIO_SCHEMA": "Stack.1", "children": [{"OTIO_SCHEMA": )"
           R"("Track.1", "kind": "Video", "children": [)"
           + clips + "]}]}}";
}

/// Handbook 11.1: old A0+48 B0+72 C0+24 D0+96 E0+60, new A0+48 B12+60 D0+96 C0+24 X0+36 E0+50.
const std::vector<Event> oldCut{ { "A", 0, 48 }, { "B", 0, 72 }, { "C", 0, 24 }, { "D", 0, 96 }, { "E", 0, 60 } };
const std::vector<Event> newCut{ { "A", 0, 48 }, { "B", 12, 60 }, { "D", 0, 96 }, { "C", 0, 24 }, { "X", 0, 36 }, { "E", 0, 50 } };

/// Edition A is a scan of the old cut, 300 frames of one print, its shots as they lie.
spotting::Book scanned (const std::string& rate = "24")
{
    spotting::Book book;
    book.prints = std::vector<film::Print>{ print (300) };
    book.editions = std::vector<film::Edition>{ edition (
        { shot ("A", 0, 48), shot ("B", 48, 120), shot ("C", 120, 144), shot ("D", 144, 240), shot ("E", 240, 300) }) };
    book.delivery = delivery (rate);
    return book;
}

exchange::PictureList listOf (const std::string& bytes)
{
    return did (exchange::readPictureList (bytes, rate24));
}

std::vector<std::string> saidOf (const spotting::Book& book, const std::string& before = "A", const std::string& after = "B")
{
    const auto all = did (spotting::carry (book, before, after));
    std::vector<std::string> said;
    for (const auto& row :
         spotting::recutRows (*spotting::editionOf (book, before), *spotting::editionOf (book, after), all.changes))
        said.push_back (row.shot + " " + spotting::whatText (row));
    return said;
}

void checkOracle (const spotting::Book& book)
{
    const auto all = did (spotting::carry (book, "A", "B"));
    CHECK (all.changes.oldFrames == 300);
    CHECK (all.changes.newFrames == 314);
    const std::vector<std::pair<std::int64_t, std::int64_t>> moved{ { 0, 0 },     { 47, 47 },   { 60, 48 },   { 119, 107 },
                                                                    { 120, 204 }, { 143, 227 }, { 144, 108 }, { 239, 203 },
                                                                    { 240, 264 }, { 289, 313 } };
    for (const auto& [old, now] : moved)
    {
        INFO ("old frame " << old);
        CHECK (all.changes.newFrameOf (old) == now);
    }
    for (const std::int64_t lost : { 48, 59, 290, 299 })
        CHECK_FALSE (all.changes.newFrameOf (lost).has_value());
    // One new shot, so that it is called B1.
    CHECK (saidOf (book)
           == std::vector<std::string>{ "A kept", "B kept, head -12", "D kept", "C moved", "B1 new", "E kept, tail -10" });
}
} // namespace

TEST_CASE ("Handbook 11.1 from two lists: CMX3600, OTIO, and one of each")
{
    const auto old = listOf (cmxOf (oldCut)), now = listOf (cmxOf (newCut));
    const auto oldOtio = listOf (otioOf (oldCut)), nowOtio = listOf (otioOf (newCut));
    for (const auto& [before, after] : { std::pair (&old, &now), std::pair (&oldOtio, &nowOtio), std::pair (&old, &nowOtio) })
    {
        const auto made = did (desk::recutFromLists (scanned(), "A", *before, *after));
        CHECK (made.after == "B");
        checkOracle (made.book);
        // What is new is a print without a file; all else stays where it is.
        REQUIRE (made.book.prints.size() == 2);
        CHECK (film::filmFramesOf (made.book.prints[1]) == 36);
        CHECK (made.book.prints[1].reels.front().path.empty());
        CHECK (made.book.editions[1].shots[4].print == made.book.prints[1].id);
        CHECK (made.book.editions[1].shots[5].print == "p1");
        CHECK (spotting::pendingMatches (made.book).empty());
    }
}

TEST_CASE ("Hits and cues are carried through a recut from lists as through one by pictures")
{
    auto book = scanned();
    auto cue = cueOver (picture (0), picture (250));
    book = did (spotting::addCue (book, "anna", cue, timed (book))).book;
    book = did (spotting::addHits (book, "anna",
                                   { hitAt (picture (50), "gone"), hitAt (picture (130), "in C"), hitAt (headOf ("B"), "cut") }))
               .book;
    const auto made = did (desk::recutFromLists (book, "A", listOf (cmxOf (oldCut)), listOf (cmxOf (newCut))));
    const auto all = did (spotting::carry (made.book, "A", "B"));
    for (const auto& hit : all.hits)
    {
        INFO (hit.hit.label);
        if (hit.hit.label == "gone")
            CHECK (hit.place.fate == spotting::Fate::lost);
        else
            CHECK (hit.place.frames == (hit.hit.label == "cut" ? 0 : 84));
        if (hit.hit.label == "cut")
            CHECK (hit.place.trimmed == 12);
    }
    REQUIRE (all.cues.size() == 1);
    CHECK (all.cues[0].out.frames == 24);
}

TEST_CASE ("Lists that count delivered frames or frames of the file are told by their length")
{
    // 18 film frames a second at 24: every third is shown twice, and every cut of these falls on a whole delivered frame.
    const auto delivered = [] (std::vector<Event> events)
    {
        for (auto& e : events)
        {
            e.in = e.in * 4 / 3;
            e.frames = e.frames * 4 / 3;
        }
        return events;
    };
    auto longer = newCut;
    longer.back().frames = 48;
    const auto made =
        did (desk::recutFromLists (scanned(), "A", listOf (cmxOf (delivered (oldCut))), listOf (cmxOf (delivered (longer)))));
    const auto all = did (spotting::carry (made.book, "A", "B"));
    CHECK (all.changes.newFrames == 312);
    CHECK (all.changes.newFrameOf (60) == 48);
    CHECK (all.changes.newFrameOf (239) == 203);
    CHECK (all.changes.newFrameOf (287) == 311);
    CHECK (film::filmFramesOf (made.book.prints[1]) == 36);
    REQUIRE_FALSE (made.notes.empty());
    CHECK (made.notes.front().find ("delivered frame") != std::string::npos);

    // The same as frames of a file that is padded 3 in 4, delivered at another rate.
    auto book = scanned ("25");
    auto prints = book.prints.list();
    prints[0].reels[0].cadence = did (film::Cadence::fromRuns ({ { { 1, 1, 2 }, 300 } }));
    book.prints = std::move (prints);
    const auto ofFile =
        did (desk::recutFromLists (book, "A", listOf (cmxOf (delivered (oldCut))), listOf (cmxOf (delivered (longer)))));
    CHECK (did (spotting::carry (ofFile.book, "A", "B")).changes.changes == all.changes.changes);
    CHECK (ofFile.notes.front().find ("frame of the file") != std::string::npos);

    const auto wrong = desk::recutFromLists (scanned(), "A", listOf (cmxOf (newCut)), listOf (cmxOf (oldCut)));
    REQUIRE_FALSE (wrong);
    CHECK (wrong.error().text().find ("314 frames") != std::string::npos);
    CHECK (wrong.error().text().find ("300 film frames, 400 delivered frames") != std::string::npos);
}

TEST_CASE ("A card made anew is its successor where the lists call both the same: else somebody decides")
{
    auto book = scanned();
    auto editions = book.editions.list();
    editions[0].shots[2].kind = film::ShotKind::card;
    editions[0].shots[2].wording = "Fire!";
    editions[0].shots[2].reason = "the only card of that title there is";
    editions[0].shots[0].reason = "sharper in this print";
    book.editions = std::move (editions);
    auto before = oldCut, after = oldCut;
    before[2].clip = "card fire";
    after[2] = { "K2", 0, 40, "Card Fire" };
    const auto sure = did (desk::recutFromLists (book, "A", listOf (cmxOf (before)), listOf (cmxOf (after))));
    CHECK (saidOf (sure.book) == std::vector<std::string>{ "A kept", "B kept", "C remade", "D kept", "E kept" });
    CHECK (sure.book.editions[1].shots[2].frames() == 40);
    CHECK (sure.book.editions[1].shots[2].wording.empty());
    // What was said of the source goes along; a card in another's place is remade without anybody saying so.
    CHECK (sure.book.editions[1].shots[2].making() == "remade");
    CHECK (sure.book.editions[1].shots[2].reason == "the only card of that title there is");
    CHECK (sure.book.editions[1].shots[0].making().empty());
    CHECK (sure.book.editions[1].shots[0].reason == "sharper in this print");
    CHECK (sure.book.editions[0] == book.editions[0]);

    after[2].clip = "something else";
    auto asked = did (desk::recutFromLists (book, "A", listOf (cmxOf (before)), listOf (cmxOf (after))));
    const auto pending = spotting::pendingMatches (asked.book);
    REQUIRE (pending.size() == 1);
    CHECK (pending[0].doubt == spotting::Doubt::card);
    CHECK (saidOf (asked.book)
           == std::vector<std::string>{ "A kept", "B kept", "C cut out", "something else new", "D kept", "E kept" });
    const auto settled = did (spotting::settle (asked.book, { { pending[0].id, spotting::Answer::same, 0 } }));
    CHECK (saidOf (settled)[2] == "C remade");
    CHECK_FALSE (asked.book.editions[1].shots[2].remade);
    CHECK (settled.editions[1].shots[2].remade);
    CHECK (settled.editions[1].shots[2].reason == "the only card of that title there is");

    // A made one that stays as it was is not remade; one that is made anew, or now made, is.
    const auto madeOf = [] (std::size_t old, int seconds)
    {
        desk::ListedShot shot;
        shot.made = time::Rational (seconds);
        shot.standsFor = old;
        return shot;
    };
    const auto listed = [] (std::size_t old, std::int64_t frames)
    {
        desk::ListedShot shot;
        shot.parts = { { old, 0, frames } };
        return shot;
    };
    const auto& shots = book.editions[0].shots;
    const auto made = did (desk::editionFromListed (book, "A", { listed (0, shots[0].frames()), madeOf (2, 4) }));
    CHECK (made.book.editions[1].shots[0].making().empty());
    CHECK (made.book.editions[1].shots[1].making() == "remade");
    auto editionsNow = made.book.editions.list();
    editionsNow[1].shots[1].remade = false;
    auto settledNow = made.book;
    settledNow.editions = editionsNow;
    CHECK (settledNow.editions[1].shots[1].making() == "made");
    const auto same = did (desk::editionFromListed (settledNow, "B", { listed (0, shots[0].frames()), madeOf (1, 4) }));
    CHECK (same.book.editions[2].shots[1].making() == "made");
    const auto anew = did (desk::editionFromListed (settledNow, "B", { listed (0, shots[0].frames()), madeOf (1, 5) }));
    CHECK (anew.book.editions[2].shots[1].making() == "remade");
    CHECK (anew.book.editions[2].shots[1].reason == "the only card of that title there is");
}

TEST_CASE ("A change list as it was written gives the same edition again, whatever was changed")
{
    const auto holds = rc::check (
        [&]
        {
            auto book = scanned();
            // Shots of A trimmed, left out, used again, in any order, some with new pictures put in.
            film::Edition after = edition ({});
            after.letter = "B";
            after.parent = "A";
            auto prints = book.prints.list();
            prints.push_back (print (1000, "p2"));
            book.prints = std::move (prints);
            const auto count = *rc::gen::inRange (1, 9);
            for (int i = 0; i < count; ++i)
            {
                const auto which = static_cast<std::size_t> (*rc::gen::inRange (0, 6));
                if (which == 5)
                {
                    after.shots.push_back (shot ("new" + std::to_string (i), 100 * i, 100 * i + *rc::gen::inRange (1, 99), "p2"));
                    continue;
                }
                auto part = book.editions[0].shots[which];
                part.first += *rc::gen::inRange (0, 12);
                part.end -= *rc::gen::inRange (0, 12);
                for (const auto& other : after.shots)
                    if (other.id == part.id)
                        part.id = "again" + std::to_string (i);
                after.shots.push_back (part);
            }
            const auto& before = book.editions[0];
            const auto changes = film::changeList (before, after);
            const auto text = exchange::changeTable (spotting::recutRows (before, after, changes));
            const auto table = exchange::readChangeTable (text);
            RC_ASSERT (table.ok());
            RC_ASSERT (table->bad.empty());
            const auto made = desk::recutFromChanges (book, "A", *table);
            if (! made)
                RC_FAIL (made.error().text());
            const auto again = film::changeList (made->book.editions[0], made->book.editions[1], made->book.samePictures.list());
            const auto same = [] (const film::ChangeList& list)
            {
                std::vector<std::int64_t> olds (static_cast<std::size_t> (list.newFrames), -1);
                for (const auto& change : list.changes)
                    for (std::int64_t k = 0; k < change.frames && change.newFirst >= 0 && change.oldFirst >= 0; ++k)
                        olds[static_cast<std::size_t> (change.newFirst + k)] = change.oldFirst + k;
                return olds;
            };
            RC_ASSERT (same (again) == same (changes));
        });
    CHECK (holds);
}

TEST_CASE ("What a change list leaves out or tells twice is said")
{
    const std::string head = "what,old first,old frames,new first,new frames\n";
    const auto errorOf = [&] (const std::string& rows)
    {
        const auto table = exchange::readChangeTable (head + rows);
        if (! table)
            return table.error().text();
        const auto made = desk::recutFromChanges (scanned(), "A", *table);
        return made ? std::string() : made.error().text();
    };
    CHECK (errorOf ("kept,0,300,0,300\n").empty());
    CHECK (errorOf ("\"kept, head -12\",0,300,0,288\n").empty());
    CHECK (errorOf ("kept,0,200,0,200\n").find ("says nothing of old film frames 200 to 299") != std::string::npos);
    CHECK (errorOf ("kept,0,300,0,288\n").find ("line 2") != std::string::npos);
    CHECK (errorOf ("kept,0,300,5,300\n").find ("begins at new film frame 5") != std::string::npos);
    CHECK (errorOf ("kept,0,200,0,200\nkept,200,100,190,100\n").find ("line 3") != std::string::npos);
    CHECK (errorOf ("kept,0,400,0,400\n").find ("has 300") != std::string::npos);
    CHECK (errorOf ("\"kept, inside -5\",0,300,0,295\n").find ("does not say where") != std::string::npos);
    CHECK (errorOf ("kept,zero,300,0,300\n").find ("old first") != std::string::npos);
    const auto none = exchange::readChangeTable ("frame,what\n1,2\n");
    REQUIRE_FALSE (none);
    CHECK (none.error().text().find ("old first") != std::string::npos);
}

TEST_CASE ("Every real list recut onto itself keeps every frame: what can't be read is refused by name")
{
    const std::filesystem::path folder = std::string (SHUTTERBEAT_TEST_DATA) + "/data/interchange";
    if (! std::filesystem::exists (folder / "edl"))
    {
        WARN ("the folder of real lists is not there");
        return;
    }
    int kept = 0, refused = 0;
    for (const auto* kind : { "edl", "otio" })
        for (const auto& entry : std::filesystem::directory_iterator (folder / kind))
        {
            INFO (entry.path());
            std::ifstream file (entry.path(), std::ios::binary);
            const std::string bytes{ std::istreambuf_iterator<char> (file), {} };
            const bool at25 = entry.path().filename().string().find ("25") != std::string::npos;
            const auto list = exchange::readPictureList (bytes, { at25 ? 25 : 24, false });
            if (! list)
            {
                ++refused;
                CHECK_FALSE (list.error().message.empty());
                continue;
            }
            spotting::Book book;
            book.prints = std::vector<film::Print>{ print (list->frames()) };
            book.editions = std::vector<film::Edition>{ edition ({ shot ("A", 0, list->frames()) }) };
            const auto path = entry.path().string();
            const auto made = did (desk::recutFromListFiles (book, "A", path, path, list->rate, {}));
            const auto all = did (spotting::carry (made.book, "A", "B"));
            CHECK (all.changes.newFrames == list->frames());
            std::int64_t same = 0;
            for (std::int64_t k = 0; k < list->frames(); ++k)
                same += all.changes.newFrameOf (k) == k ? 1 : 0;
            CHECK (same == list->frames());
            ++kept;
        }
    CHECK (kept >= 15);
    CHECK (refused >= 1);
}
