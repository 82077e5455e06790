#include "Catch.h"
#include "SmallBook.h"
#include "spotting/Remedies.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;
using spotting::RemedyKind;

namespace
{
/// At 18: 180 film frames, a card of 108 (6 s) that needs 3.2 s read aloud twice and 4 feet, 180 more, 180 at the end. The new
/// edition has `out` film frames fewer in the third shot.
spotting::Book bookWith (std::int64_t out, const std::string& wording = "The cake is gone again", std::int64_t in = 0)
{
    auto card = shot ("K", 180, 288);
    card.kind = film::ShotKind::card;
    card.wording = wording;
    spotting::Book book;
    book.prints = std::vector<film::Print>{ print (1000) };
    book.editions = std::vector<film::Edition>{ edition ({ shot ("A", 0, 180), card, shot ("C", 288, 468), shot ("D", 468, 648) }),
                                                edition ({ shot ("A", 0, 180), card, shot ("C", 288 + out, 468) }) };
    auto editions = book.editions.list();
    if (in > 0)
        editions[1].shots.push_back (shot ("X", 700, 700 + in));
    editions[1].shots.push_back (shot ("D", 468, 648));
    editions[1].letter = "B";
    editions[1].parent = "A";
    book.editions = std::move (editions);
    book.delivery = delivery ("24");
    auto cue = cueOver (picture (0), picture (640));
    // 90 a minute: a beat every 12 film frames, a bar every 48; bar 1 at the cue's in.
    cue.tempo = did (music::TempoMap::steady (90));
    cue.status = spotting::CueStatus::recorded;
    book = did (spotting::addCue (book, "anna", cue, timed (book))).book;
    auto hit = hitAt (headOf ("A"), "in");
    hit.weight = spotting::Weight::must;
    auto later = hitAt (headOf ("D"), "the door");
    later.weight = spotting::Weight::must;
    hit.cue = later.cue = book.cues[0].id;
    return did (spotting::addHits (book, "anna", { hit, later })).book;
}

std::vector<spotting::InsideRemedies> remediesFor (const spotting::Book& book)
{
    return did (spotting::remediesOf (book, did (spotting::carry (book, "A", "B"))));
}

const spotting::Remedy* firstOf (const spotting::InsideRemedies& found, RemedyKind kind)
{
    const auto at = std::find_if (found.ways.begin(), found.ways.end(), [&] (const auto& way) { return way.kind == kind; });
    return at == found.ways.end() ? nullptr : &*at;
}

/// The new edition with the cards changed as the remedy says.
spotting::Book carriedOut (const spotting::Book& book, const spotting::Remedy& remedy)
{
    auto editions = book.editions.list();
    for (const auto& card : remedy.cards)
    {
        auto& shot = editions[1].shots[card.shot];
        shot.made = card.becomes;
        shot.print.clear();
    }
    auto changed = book;
    changed.editions = std::move (editions);
    return changed;
}

time::Rational clockIn (const spotting::Book& book, const std::string& letter, const std::string& label)
{
    spotting::Asked asked;
    asked.edition = letter;
    for (const auto& hit : did (spotting::timesOf (book, asked)).hits)
        if (hit.hit.label == label)
            return hit.at->clock;
    return {};
}
} // namespace

TEST_CASE ("A card is made longer so that the recorded music stands: the later hit is where it was")
{
    const auto book = bookWith (36); // two seconds out
    const auto found = remediesFor (book);
    REQUIRE (found.size() == 1);
    const auto* cards = firstOf (found[0], RemedyKind::cards);
    REQUIRE (cards != nullptr);
    REQUIRE (cards->cards.size() == 1);
    CHECK (cards->cards[0].name == "K");
    CHECK (cards->cards[0].frames == 36);
    CHECK (cards->cards[0].was == time::Rational (6));
    CHECK (cards->cards[0].becomes == time::Rational (8));
    CHECK (cards->left.sign() == 0);
    CHECK (cards->hitsOff == 0);
    CHECK (clockIn (book, "B", "the door") != clockIn (book, "A", "the door"));
    CHECK (clockIn (carriedOut (book, *cards), "B", "the door") == clockIn (book, "A", "the door"));
    // Beside it what players can do, and to play it again, which costs more.
    const auto* again = firstOf (found[0], RemedyKind::again);
    REQUIRE (again != nullptr);
    CHECK (again->cost > cards->cost);
    CHECK (again->text.find ("play it again: bars") != std::string::npos);
    CHECK (firstOf (found[0], RemedyKind::music) != nullptr);
    for (std::size_t i = 1; i < found[0].ways.size(); ++i)
        CHECK (found[0].ways[i - 1].cost <= found[0].ways[i].cost);
}

TEST_CASE ("A card is made shorter only as far as its reading check allows")
{
    // 5 words: 5 feet is 80/18 s = 4.44 s (a foot a word, Sargent 1916), 4 s aloud twice; 108 film frames stand 6 s.
    const auto roomy = remediesFor (bookWith (0, "The cake is gone again", 18)); // one second in
    REQUIRE (roomy.size() == 1);
    const auto* cards = firstOf (roomy[0], RemedyKind::cards);
    REQUIRE (cards != nullptr);
    CHECK (cards->cards[0].frames == -18);
    CHECK (cards->cards[0].becomes == time::Rational (5));
    const auto after = cards->cards[0].becomes;
    for (const auto rule : cards->cards[0].rules)
        CHECK (after >= spotting::secondsNeeded (rule, "The cake is gone again", 18));
    CHECK (cards->cards[0].rules.size() == 4);

    // Three seconds are more than it can give, and it says how much it has.
    const auto tight = remediesFor (bookWith (0, "The cake is gone again", 54));
    REQUIRE (tight.size() == 1);
    CHECK (firstOf (tight[0], RemedyKind::cards) == nullptr);
    CHECK (std::any_of (tight[0].notes.begin(), tight[0].notes.end(),
                        [] (const std::string& note) { return note.find ("room for") != std::string::npos; }));

    // A card that nobody has read is not shortened.
    const auto unread = remediesFor (bookWith (0, "", 18));
    REQUIRE (unread.size() == 1);
    CHECK (firstOf (unread[0], RemedyKind::cards) == nullptr);
}

TEST_CASE ("Whatever was taken out or put in, a remedy by cards puts the music back and keeps every rule it kept")
{
    const auto holds = rc::check (
        []
        {
            // Either: two changes would have two remedies.
            const auto frames = *rc::gen::inRange<std::int64_t> (-80, 80);
            const auto out = std::max<std::int64_t> (0, -frames), in = std::max<std::int64_t> (0, frames);
            const auto book = bookWith (out, "The cake is gone again", in);
            for (const auto& found : remediesFor (book))
                for (const auto& way : found.ways)
                {
                    if (way.kind != RemedyKind::cards)
                        continue;
                    const auto then = clockIn (book, "A", "the door");
                    const auto off = clockIn (carriedOut (book, way), "B", "the door") - then;
                    // Delivered frames begin a 24th apart; the remedy itself is exact here, at one speed.
                    RC_ASSERT (off < time::Rational (1, 12) && off > time::Rational (-1, 12));
                    for (const auto& card : way.cards)
                        for (const auto rule : card.rules)
                            RC_ASSERT (card.becomes >= spotting::secondsNeeded (rule, card.wording, 18));
                }
        });
    CHECK (holds);
}

TEST_CASE ("Whatever was taken out or put in, beats, nudge and what is left over make up the change, least change first")
{
    const double beat = 60. / 90, frame = 1. / 24;
    bool nudged = false, barIn = false, barOut = false, meter = false;
    for (std::int64_t frames = -80; frames <= 80; ++frames)
    {
        const auto book =
            bookWith (std::max<std::int64_t> (0, -frames), "The cake is gone again", std::max<std::int64_t> (0, frames));
        const auto all = remediesFor (book);
        REQUIRE (all.size() == (frames == 0 ? 0 : 1));
        if (all.empty())
            continue;
        const auto& ways = all[0].ways;
        INFO ("frames " << frames);
        REQUIRE_FALSE (ways.empty());
        CHECK (firstOf (all[0], RemedyKind::again) != nullptr);
        for (std::size_t i = 0; i < ways.size(); ++i)
        {
            CHECK ((i == 0 || ways[i - 1].cost <= ways[i].cost));
            if (ways[i].kind != RemedyKind::music)
                continue;
            const auto& way = *ways[i].way;
            INFO (ways[i].text);
            CHECK (way.beats == 4 * way.barsIn + way.beatsInBar);
            const double byNudge = way.nudgeBeats * beat * (1 / (1 + way.nudge) - 1), left = way.leftFrames * frame;
            CHECK (way.beats * beat + byNudge == Approx (static_cast<double> (frames) / 18 + left).margin (1e-6));
            CHECK (time::toDouble (ways[i].left) == Approx (left).margin (1e-12));
            const auto beats = std::to_string (std::abs (way.beats)) + (std::abs (way.beats) == 1 ? " beat " : " beats ");
            CHECK ((way.beats == 0 || ways[i].text.find (beats + (way.beats > 0 ? "more: " : "fewer: ")) == 0));
            nudged = nudged || (way.nudgeBeats > 0 && way.beats == 0);
            barIn = barIn || (way.barsIn > 0 && way.beatsInBar == 0);
            barOut = barOut || (way.barsIn < 0 && way.beatsInBar == 0);
            meter = meter || (way.barsIn == 0 && way.beatsInBar != 0);
            // Of two ways with the same bars the dearer one lands nearer.
            for (std::size_t k = 0; k < i; ++k)
                if (ways[k].way && ways[k].way->barsIn == way.barsIn && ways[k].way->beatsInBar == way.beatsInBar)
                    CHECK (std::abs (way.leftFrames) < std::abs (ways[k].way->leftFrames));
        }
    }
    CHECK ((nudged && barIn && barOut && meter));
}

TEST_CASE ("Hits between the change and the card stay beside the music, and that has its cost")
{
    auto book = bookWith (36);
    const auto first = *firstOf (remediesFor (book)[0], RemedyKind::cards);
    // Behind the change, which is at the head of C, and before the card: the card has to come first in the new edition.
    auto editions = book.editions.list();
    for (auto& one : editions)
        std::swap (one.shots[1], one.shots[2]);
    book.editions = std::move (editions);
    auto hit = hitAt (headOf ("K"), "the card");
    hit.weight = spotting::Weight::must;
    hit.cue = book.cues[0].id;
    book = did (spotting::addHits (book, "anna", { hit })).book;
    const auto found = remediesFor (book);
    REQUIRE (found.size() == 1);
    const auto* cards = firstOf (found[0], RemedyKind::cards);
    REQUIRE (cards != nullptr);
    CHECK (cards->hitsOff == 1);
    CHECK (cards->cost == Approx (first.cost + spotting::CardCosts().hitOff));
    CHECK (cards->text.find ("with 1 hit between left beside it") != std::string::npos);
    CHECK (clockIn (carriedOut (book, *cards), "B", "the door") == clockIn (book, "A", "the door"));
}

TEST_CASE ("Without a tempo the remedy says so, and tacet is left alone")
{
    auto book = bookWith (36);
    auto cues = book.cues.list();
    cues[0].tempo.reset();
    book.cues = cues;
    const auto found = remediesFor (book);
    REQUIRE (found.size() == 1);
    CHECK (firstOf (found[0], RemedyKind::music) == nullptr);
    CHECK (firstOf (found[0], RemedyKind::again) != nullptr);
    CHECK (firstOf (found[0], RemedyKind::cards) != nullptr);
    cues[0].kind = spotting::CueKind::tacet;
    book.cues = cues;
    CHECK (remediesFor (book).empty());
}
