#include "Catch.h"
#include "SmallBook.h"

#include "spotting/SoundEdit.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
spotting::Sound soundAt (const Rational& seconds, const std::string& cue = "")
{
    spotting::Sound sound;
    sound.name = "1M1 mock-up.wav";
    sound.path = "sounds/1M1 mock-up.wav";
    sound.samples = 480000;
    sound.place.seconds = seconds;
    sound.place.cue = cue;
    return sound;
}
} // namespace

TEST_CASE ("sounds get ids that are never given out again, and only what they may hold")
{
    const auto book = spottedBook();
    const auto two = did (spotting::addSounds (book, "bo", { soundAt (0), soundAt ({ -7, 2 }) }));
    REQUIRE (two.ids == std::vector<std::string>{ "bo-2", "bo-3" });
    CHECK (two.book.sounds[1].place.seconds == Rational (-7, 2));
    CHECK (book.sounds.empty());
    const auto fewer = did (spotting::removeSounds (two.book, { "bo-3" }));
    CHECK (fewer.sounds.size() == 1);
    CHECK (did (spotting::addSounds (fewer, "bo", { soundAt (1) })).ids.front() == "bo-4");
    CHECK_FALSE (spotting::removeSounds (two.book, { "bo-2", "bo-9" }).ok());

    auto wrong = soundAt (0);
    wrong.cue = "nobody-1";
    CHECK_FALSE (spotting::addSounds (book, "bo", { wrong }).ok());
    CHECK_FALSE (spotting::addSounds (book, "bo", { soundAt (0, "nobody-1") }).ok());
    CHECK_FALSE (spotting::addSounds (book, "bo", { soundAt (86401) }).ok());
    wrong = soundAt (0);
    wrong.gain = Rational (25);
    CHECK_FALSE (spotting::addSounds (book, "bo", { wrong }).ok());
    wrong = soundAt (0);
    wrong.place.reel = 1;
    CHECK_FALSE (spotting::addSounds (book, "bo", { wrong }).ok());
    CHECK_FALSE (spotting::addSounds (book, "b o", { soundAt (0) }).ok());

    auto louder = two.book.sounds[0];
    louder.gain = Rational (-13, 2);
    louder.muted = true;
    const auto set = did (spotting::setSound (two.book, louder));
    CHECK (set.sounds[0] == louder);
    CHECK (set.sounds[1] == two.book.sounds[1]);
    louder.id = "bo-77";
    CHECK_FALSE (spotting::setSound (two.book, louder).ok());
}

TEST_CASE ("a sound is found by id or by a name that only it has")
{
    auto other = soundAt (0);
    other.name = "2M1.wav";
    const auto book = did (spotting::addSounds (smallBook(), "bo", { soundAt (0), soundAt (1), other })).book;
    CHECK (did (spotting::soundNamed (book, "bo-2")).place.seconds == Rational (1));
    CHECK (did (spotting::soundNamed (book, "2M1.wav")).id == "bo-3");
    const auto two = spotting::soundNamed (book, "1M1 mock-up.wav");
    REQUIRE_FALSE (two.ok());
    CHECK (two.error().message.find ("bo-1 or bo-2") != std::string::npos);
    CHECK_FALSE (spotting::soundNamed (book, "3M1.wav").ok());
}

TEST_CASE ("a sound counted from a cue goes where its cue goes, in delivered time")
{
    auto book = spottedBook(); // 18 film frames a second, final 24; cue anna-1 from film frame 10
    book = did (spotting::addSounds (book, "bo", { soundAt ({ 1, 48000 }, "anna-1"), soundAt ({ -7, 2 }) })).book;
    const auto timings = timed (book);
    // Film frame 10 first shows at delivered frame ceil (10 / 18 * 24) = 14.
    const auto from = did (spotting::startOf (book, timings, book.sounds[0]));
    CHECK (from.reel == 0);
    CHECK (from.clock == Rational (14, 24) + Rational (1, 48000));
    CHECK (did (spotting::startOf (book, timings, book.sounds[1])).clock == Rational (-7, 2));
    // The same cue delivered frame for frame from 24 at 25.
    book.delivery = { { Rational (25), false }, Rational (24) };
    CHECK (did (spotting::startOf (book, timed (book), book.sounds[0])).clock == Rational (14, 25) + Rational (1, 48000));
    // Its cue removed: the sound stays in the book and says what it lacks.
    const auto without = did (spotting::removeCues (book, { "anna-1" }));
    REQUIRE (without.sounds.size() == 2);
    const auto lost = spotting::startOf (without, timed (without), without.sounds[0]);
    REQUIRE_FALSE (lost.ok());
    CHECK (lost.error().message.find ("anna-1 is gone") != std::string::npos);
}

TEST_CASE ("removing a cue frees its sounds as it frees its hits")
{
    auto sound = soundAt (2);
    auto book = spottedBook();
    sound.cue = "anna-1";
    book = did (spotting::addSounds (book, "bo", { sound })).book;
    CHECK (did (spotting::removeCues (book, { "anna-1" })).sounds[0].cue.empty());
    CHECK (did (spotting::removeCues (book, { "bo-1" })).sounds.sharesWith (book.sounds));
}

TEST_CASE ("a WAV time stamp is the label's time after midnight at the final rate (handbook 7.4)")
{
    const auto at = [] (const time::Rate& rate, const std::string& label, std::int64_t stamp)
    {
        auto book = smallBook();
        book.delivery = { rate, film::usualFill (rate) };
        auto editions = book.editions.list();
        editions[0].reels[0].startLabel = label;
        book.editions = editions;
        return spotting::placeOfTimeStamp (timed (book), 0, stamp, 48000);
    };
    for (const int whole : { 24, 25, 30 })
        CHECK (did (at ({ Rational (whole), false }, "01:00:00:00", 172'800'000)) == Rational (0));
    CHECK (did (at ({ Rational (24000, 1001), false }, "01:00:00:00", 172'972'800)) == Rational (0));
    CHECK (did (at ({ Rational (30000, 1001), false }, "01:00:00:00", 172'972'800)) == Rational (0));
    // 172799827.2: the nearest whole sample lies a fifth of one before.
    CHECK (did (at ({ Rational (30000, 1001), true }, "01:00:00;00", 172'799'827)) == Rational (-1, 240000));
    CHECK (did (at ({ Rational (24), false }, "01:00:00:00", 172'800'000 - 96'000)) == Rational (-2));
    // Just before midnight, with the picture at midnight.
    CHECK (did (at ({ Rational (24), false }, "00:00:00:00", std::int64_t (86399) * 48000)) == Rational (-1));
    const auto far = at ({ Rational (24), false }, "01:00:00:00", std::int64_t (36000) * 48000);
    REQUIRE_FALSE (far.ok());
    CHECK (far.error().message.find ("10:00:00.000") != std::string::npos);
    CHECK_FALSE (at ({ Rational (18), false }, "01:00:00:00", 172'800'000).ok());
}

TEST_CASE ("offsets of sounds are read and written exactly")
{
    CHECK (did (spotting::parseSoundOffset ("-4.5s")) == Rational (-9, 2));
    CHECK (did (spotting::parseSoundOffset ("1001/24000s")) == Rational (1001, 24000));
    CHECK (did (spotting::parseSoundOffset ("-192000@48000")) == Rational (-4));
    CHECK (did (spotting::parseSoundOffset ("1@44100")) == Rational (1, 44100));
    for (const auto* wrong : { "", "s", "4", "4,5s", "12@", "@48000", "1@0", "1/0s", "film:3" })
        CHECK_FALSE (spotting::parseSoundOffset (wrong).ok());
    CHECK (spotting::soundOffsetText (Rational (-4), 48000) == "-4s");
    CHECK (spotting::soundOffsetText (Rational (1, 44100), 44100) == "1@44100");
    CHECK (spotting::soundOffsetText (Rational (1, 3), 44100) == "14700@44100");
    CHECK (spotting::soundOffsetText (Rational (1, 7), 48000) == "1/7s");
    CHECK_PROPERTY ("what is written is read back",
                    []
                    {
                        const Rational seconds (time::Int128 (*rc::gen::inRange (-1000000, 1000000)),
                                                time::Int128 (*rc::gen::inRange (1, 100000)));
                        RC_ASSERT (*spotting::parseSoundOffset (spotting::soundOffsetText (seconds, 44100)) == seconds);
                    });
}

TEST_CASE ("the names of a sound's kinds and placings are read back")
{
    for (const auto kind :
         { spotting::SoundKind::mockUp, spotting::SoundKind::take, spotting::SoundKind::mix, spotting::SoundKind::stem })
        CHECK (did (spotting::parseSoundKind (spotting::soundKindName (kind))) == kind);
    for (const auto placed : { spotting::PlacedBy::wavTimeStamp, spotting::PlacedBy::ltc, spotting::PlacedBy::pop,
                               spotting::PlacedBy::name, spotting::PlacedBy::hand })
        CHECK (did (spotting::parsePlacedBy (spotting::placedByName (placed))) == placed);
    CHECK_FALSE (spotting::parseSoundKind ("song").ok());
    CHECK_FALSE (spotting::parsePlacedBy ("luck").ok());
}
