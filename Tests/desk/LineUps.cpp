#include "Catch.h"

#include "desk/FilmSound.h"
#include "desk/LineUpRecut.h"
#include "desk/LineUpSound.h"
#include "mix/LinearTimecode.h"
#include "spotting/SmallBook.h"
#include "spotting/SoundEdit.h"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <unistd.h>

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

TEST_CASE ("After a recut: much come and gone is to be played again: another delivery is to be re-timed")
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

TEST_CASE ("After a recut: a sound that is no cue's is judged by the picture it lies under")
{
    // From ten to thirty seconds of edition A: s2 and s3.
    const auto withLoose = [] (const std::vector<film::Shot>& after)
    {
        auto book = bookOf (after);
        spotting::Sound sound;
        sound.name = "loose";
        sound.samples = 20 * 48000;
        sound.place.seconds = 10;
        sound.madeFor = spotting::MadeFor{ "A", book.delivery };
        return did (spotting::addSounds (book, "anna", { sound })).book;
    };
    const auto standOf = [] (const spotting::Book& book) { return did (desk::soundStands (book)).back(); };
    // Two seconds are gone from the head of s3, ten seconds into the sound.
    const auto cut =
        standOf (withLoose ({ shot ("s1", 0, 180), shot ("s2", 200, 380), shot ("s3", 436, 580), shot ("s4", 600, 780) }));
    REQUIRE (cut.stand == Stand::edit);
    REQUIRE (cut.edits.size() == 1);
    CHECK (cut.edits[0].at == Approx (10).margin (0.05));
    CHECK (cut.edits[0].seconds == Approx (-2).margin (0.05));
    // What happens beside it does not touch it, but it has to be moved.
    const auto beside =
        standOf (withLoose ({ shot ("s1", 0, 90), shot ("s2", 200, 380), shot ("s3", 400, 580), shot ("s4", 600, 690) }));
    CHECK (beside.stand == Stand::stands);
    CHECK (beside.why.find ("90 film frames earlier") != std::string::npos);
    // All of it gone.
    CHECK (standOf (withLoose ({ shot ("s1", 0, 180), shot ("s4", 600, 780) })).stand == Stand::unknown);
}

TEST_CASE ("A channel of linear timecode is neither listened to nor mixed: one of music never counts for one")
{
    constexpr int rate = 48000;
    const std::size_t count = 6 * rate;
    std::vector<float> strokes (count), code (count);
    for (std::size_t second = 1; second < 6; ++second)
        for (std::size_t i = 0; i < rate / 8; ++i)
        {
            const double at = static_cast<double> (i) / rate;
            strokes[second * rate + i] = static_cast<float> (0.4 * std::exp (-at * 30) * std::sin (5500 * at + 1));
        }
    const auto ltc = did (mix::LinearTimecode::of ({ time::Rational (25), false }, 90000));
    ltc.render (time::Rational (rate), 0, code);
    const auto path = [] (const char* name)
    { return (std::filesystem::temp_directory_path() / (std::string (name) + std::to_string (::getpid()) + ".wav")).string(); };
    const auto write = [&] (const std::string& to, const std::vector<std::vector<float>>& channels)
    {
        std::string bytes = "RIFF";
        const auto put = [&bytes] (std::size_t value, int size)
        {
            for (int i = 0; i < size; ++i)
                bytes += static_cast<char> (value >> (8 * i) & 255);
        };
        const auto wide = channels.size(), size = count * wide * 4;
        put (size + 36, 4);
        bytes += "WAVEfmt ";
        put (16, 4);
        put (3, 2);
        put (wide, 2);
        put (rate, 4);
        put (rate * wide * 4, 4);
        put (wide * 4, 2);
        put (32, 2);
        bytes += "data";
        put (size, 4);
        for (std::size_t i = 0; i < count; ++i)
            for (const auto& channel : channels)
                bytes.append (reinterpret_cast<const char*> (&channel[i]), 4);
        std::ofstream (to, std::ios::binary) << bytes;
    };
    const auto both = path ("shutterbeat-both-"), plain = path ("shutterbeat-plain-"), alone = path ("shutterbeat-alone-");
    write (both, { strokes, code });
    write (plain, { strokes, strokes });
    write (alone, { code });
    const auto heard = did (desk::hearSound (both, 0, 6)), music = did (desk::hearSound (plain, 0, 6));
    CHECK (heard.timecode == std::vector<int>{ 2 });
    CHECK (music.timecode.empty());
    REQUIRE (heard.sharp.size() == 5);
    REQUIRE (music.sharp.size() == 5);
    for (std::size_t i = 0; i < 5; ++i)
        CHECK (heard.sharp[i].seconds == Approx (music.sharp[i].seconds).margin (0.001));
    CHECK (did (desk::openSource (both))->channels() == 1);
    CHECK (did (desk::openSource (plain))->channels() == 2);
    CHECK (did (desk::openSource (alone))->channels() == 1);
    std::vector<float> mixed (rate);
    REQUIRE (did (desk::openSource (both))->read (rate, mixed));
    CHECK (std::equal (mixed.begin(), mixed.end(), strokes.begin() + rate));
    for (const auto& file : { both, plain, alone })
        std::filesystem::remove (file);
}
