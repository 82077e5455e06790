#include "Catch.h"

#include "desk/LineUpRecut.h"
#include "spotting/SmallBook.h"
#include "spotting/SoundEdit.h"

#include <cmath>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using desk::Stand;

namespace
{
/// Edition A: four shots of 180 film frames at 18, ten seconds each; a cue over every two of them; a sound a cue.
spotting::Book bookOf (const std::vector<film::Shot>& after)
{
    spotting::Book book;
    book.prints = std::vector<film::Print>{ print (2000) };
    auto next = edition (after);
    next.letter = "B";
    next.parent = "A";
    const auto old = edition ({ shot ("s1", 0, 180), shot ("s2", 200, 380), shot ("s3", 400, 580), shot ("s4", 600, 780) });
    book.editions = std::vector<film::Edition>{ old, next };
    const auto timings = timed (book);
    const auto withMap = [] (spotting::Cue cue)
    {
        cue.tempo = *music::TempoMap::steady (time::Rational (60));
        return cue;
    };
    book = did (spotting::addCue (book, "anna", withMap (cueOver (headOf ("s1"), headOf ("s3"))), timings)).book;
    book = did (spotting::addCue (book, "anna", withMap (cueOver (headOf ("s3"), film::OutsidePlace{ true, {} }, "1M2")), timings))
               .book;
    for (const auto& cue : book.cues.list())
    {
        spotting::Sound sound;
        sound.name = cue.number;
        sound.samples = 20 * 48000;
        sound.cue = cue.id;
        sound.place.cue = cue.id;
        sound.madeFor = spotting::MadeFor{ "A", book.delivery };
        book = did (spotting::addSounds (book, "anna", { sound })).book;
    }
    book.edition = "B";
    return book;
}
} // namespace

TEST_CASE ("After a recut: a sound whose pictures are as they were stands, wherever they went")
{
    const auto rows = did (desk::soundStands (bookOf (
        { shot ("s0", 1000, 1090), shot ("s1", 0, 180), shot ("s2", 200, 380), shot ("s3", 400, 580), shot ("s4", 600, 780) })));
    REQUIRE (rows.size() == 2);
    CHECK (rows[0].stand == Stand::stands);
    CHECK (rows[1].stand == Stand::stands);
    CHECK (rows[1].edits.empty());
}

TEST_CASE ("After a recut: a trim inside a cue is an edit, told with place, length and beat")
{
    // 36 film frames, two seconds, are gone from the head of s2, ten seconds into the cue: bar 3 beat 3 at 60 a minute.
    const auto rows = did (
        desk::soundStands (bookOf ({ shot ("s1", 0, 180), shot ("s2", 236, 380), shot ("s3", 400, 580), shot ("s4", 600, 780) })));
    REQUIRE (rows.size() == 2);
    REQUIRE (rows[0].stand == Stand::edit);
    REQUIRE (rows[0].edits.size() == 1);
    CHECK (rows[0].edits[0].at == Approx (10).margin (0.05));
    CHECK (rows[0].edits[0].seconds == Approx (-2).margin (0.05));
    CHECK (rows[0].edits[0].frames == Approx (-48).margin (1));
    CHECK (rows[0].edits[0].beats == Approx (-2).margin (0.05));
    CHECK (rows[0].edits[0].bar == "bar 3 beat 3");
    CHECK (rows[1].stand == Stand::stands);
}

TEST_CASE ("After a recut: much come and gone is to be played again; another delivery is to be re-timed")
{
    const auto rows = did (
        desk::soundStands (bookOf ({ shot ("s1", 0, 180), shot ("s2", 200, 220), shot ("s3", 400, 580), shot ("s4", 600, 780) })));
    CHECK (rows[0].stand == Stand::again);

    auto book = bookOf ({ shot ("s1", 0, 180), shot ("s2", 200, 380), shot ("s3", 400, 580), shot ("s4", 600, 780) });
    book.delivery = film::Delivery{ time::parseRate ("25")->value, time::Rational (24) };
    const auto faster = did (desk::soundStands (book));
    CHECK (faster[0].stand == Stand::retime);
    CHECK (faster[0].factor == Approx (0.96));
    book.edition = "A";
    CHECK (did (desk::soundStands (book))[0].stand == Stand::retime);
    book.delivery = film::Delivery{};
    CHECK (did (desk::soundStands (book))[0].stand == Stand::stands);
    auto sound = book.sounds[0];
    sound.madeFor.reset();
    book = did (spotting::setSound (book, sound));
    CHECK (did (desk::soundStands (book))[0].stand == Stand::unknown);
}
