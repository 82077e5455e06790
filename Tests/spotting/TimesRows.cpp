#include "SmallBook.h"

#include "time/Clock.h"

using namespace shutterbeat;
using namespace shutterbeat::spotting;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
const HitTimes& row (const BookTimes& times, const std::string& label)
{
    for (const auto& hit : times.hits)
        if (hit.hit.label == label)
            return hit;
    FAIL ("no hit " << label);
    return times.hits.front();
}
} // namespace

TEST_CASE ("Rows of a book: every time of every hit, in time order")
{
    const auto times = did (timesOf (spottedBook()));
    REQUIRE (times.hits.size() == 3);
    CHECK (times.hits[0].hit.label == "the card");
    CHECK (times.hits[1].hit.label == "the fall");
    CHECK (times.hits[2].hit.label == "the kite");

    // 18 at 24 true: film frame 100 is delivered 134, 250 is 334, 350 after a card of 4 s is ceil (466 2/3 + 96) = 563.
    const auto& card = *row (times, "the card").at;
    CHECK (card.filmFrame == 100);
    CHECK (card.sourceFrame == 100);
    CHECK (card.fileFrame == 100);
    CHECK (card.delivered == 134);
    CHECK (card.timecode == "01:00:05:14");
    CHECK (card.clock == Rational (134, 24));
    CHECK (time::secondsText (card.clock) == "5.58");
    CHECK (card.feet == "6+04");
    CHECK (row (times, "the fall").at->delivered == 334);
    CHECK (row (times, "the kite").at->delivered == 563);
    CHECK (row (times, "the card").place == "edge:s-2.head+0");
    CHECK (row (times, "the kite").place == "film:350");

    REQUIRE (times.cues.size() == 2);
    const auto& cue = times.cues[0];
    CHECK (cue.cue.number == "1M1");
    CHECK (cue.in->delivered == 14);
    CHECK (cue.out->delivered == 254);
    CHECK (cue.length == Rational (240, 24));
    // A hit belongs to the cue it names, range never decides.
    REQUIRE (cue.hits.size() == 1);
    CHECK (times.hits[cue.hits[0]].hit.label == "the card");
    CHECK (fromCueStart (cue, row (times, "the card")) == Rational (120, 24));
    CHECK (fromCueStart (cue, row (times, "the kite")) == Rational (549, 24));
    CHECK (times.cues[1].hits.empty());
    CHECK (times.notes.empty());
    CHECK (basisText (times.timings) == "18 film frames a second, final rate 24, true fill");
}

TEST_CASE ("Running speed, final rate and fill change all times and no place")
{
    const Book book = spottedBook();
    const auto before = did (timesOf (book));
    std::vector<Asked> asked (5);
    asked[0].running = Rational (20);
    asked[1].running = Rational (240, 11);
    asked[2].rate = time::Rate{ Rational (25), false };
    asked[3].rate = time::Rate{ Rational (24000, 1001), false };
    asked[4].rate = time::Rate{ Rational (25), false };
    asked[4].fill = std::optional<Rational>{ Rational (24) };
    for (const auto& wish : asked)
    {
        const auto after = did (timesOf (book, wish));
        INFO (basisText (after.timings));
        for (std::size_t i = 0; i < before.hits.size(); ++i)
        {
            const auto &was = before.hits[i], &now = after.hits[i];
            CHECK (now.hit == was.hit);
            CHECK (now.place == was.place);
            CHECK (now.at->filmFrame == was.at->filmFrame);
            CHECK (now.at->sourceFrame == was.at->sourceFrame);
            CHECK (now.at->feet == was.at->feet);
            CHECK (now.at->clock != was.at->clock);
        }
        for (std::size_t i = 0; i < before.cues.size(); ++i)
        {
            CHECK (after.cues[i].cue == before.cues[i].cue);
            CHECK (after.cues[i].in->clock != before.cues[i].in->clock);
            CHECK (after.cues[i].out->clock != before.cues[i].out->clock);
        }
    }
    // And changed in the book itself: the hits are the very same list.
    const auto faster = did (setRunningSpeed (book, "A", Rational (20)));
    CHECK (faster.hits.sharesWith (book.hits));
    CHECK (faster.cues.sharesWith (book.cues));
    CHECK (setDelivery (book, delivery ("29.97df f 30")).hits.sharesWith (book.hits));
    const auto drop = did (timesOf (setDelivery (book, delivery ("29.97df f 30"))));
    CHECK (row (drop, "the card").at->timecode == "01:00:05;17"); // delivered 167
    CHECK (basisText (drop.timings) == "18 (17.982) film frames a second, final rate 29.97df, frame for frame from 30");
}

TEST_CASE ("A hit whose picture is gone is listed as lost, last, never dropped")
{
    Book book = spottedBook();
    auto editions = book.editions.list();
    editions[0].shots.erase (editions[0].shots.begin() + 2); // the fall lay in it, and the first cue ended at its head
    book.editions = editions;
    const auto times = did (timesOf (book));
    REQUIRE (times.hits.size() == 3);
    CHECK (times.hits[2].hit.label == "the fall");
    CHECK_FALSE (times.hits[2].at.has_value());
    CHECK_FALSE (times.hits[2].lost.empty());
    CHECK (times.hits[2].place.find ("250") != std::string::npos);
    CHECK (times.cues.size() == 2);
    CHECK (times.cues[0].cue.number == "1M1");
    CHECK (times.cues[0].in.has_value());
    CHECK_FALSE (times.cues[0].out.has_value());
    CHECK_FALSE (times.cues[0].length.has_value());
    CHECK (times.cues[0].lost.find ("its out") == 0);
    CHECK_FALSE (times.cues[1].in.has_value());
    CHECK (times.notes.size() == 3);
    CHECK_FALSE (fromCueStart (times.cues[1], times.hits[0]).has_value());
}

TEST_CASE ("Cues may begin before the picture and end after it (DESIGN 6)")
{
    Book book = smallBook();
    book = did (addCue (book, "anna",
                        cueOver (film::OutsidePlace{ false, Rational (-4) }, film::OutsidePlace{ true, Rational (5, 2) }),
                        timed (book)))
               .book;
    const auto times = did (timesOf (book));
    const auto& cue = times.cues[0];
    // Picture: 400 film frames at 18 and a card of 4 s are 629 1/3 frames, delivered 630.
    CHECK (cue.in->clock == Rational (-4));
    CHECK (cue.in->timecode == "00:59:56:00");
    CHECK (cue.out->clock == Rational (630, 24) + Rational (5, 2));
    CHECK (cue.length == Rational (630, 24) + Rational (13, 2));
}

TEST_CASE ("Film frames that no delivered frame shows are said")
{
    Book book = smallBook();
    book = did (setRunningSpeed (book, "A", Rational (80, 3)));
    book = did (addHits (book, "anna", { hitAt (picture (9)), hitAt (picture (8)) })).book;
    const auto times = did (timesOf (book));
    CHECK (times.hits[0].hit.place == picture (8));
    CHECK_FALSE (times.hits[0].at->notShown);
    CHECK (times.hits[1].at->notShown);
    CHECK (times.hits[1].at->delivered == 9);
    REQUIRE (times.notes.size() == 1);
    CHECK (times.notes[0].find ("1 hit") == 0);
}
