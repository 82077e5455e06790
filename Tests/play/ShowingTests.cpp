// Following a projector by taps, against a simulated one that drifts, stands between reels and lacks a scene.
#include "Catch.h"

#include "play/Showing.h"

#include <algorithm>
#include <cmath>
#include <random>
#include <set>

using namespace shutterbeat;
using play::ShowEvent;
using play::Showing;
using play::ShowKind;
using play::ShowShot;

namespace
{
struct House
{
    std::vector<ShowShot> shots;
    std::vector<ShowEvent> events;
    std::set<std::size_t> missing; ///< shots the print does not have
};

/// Two reels of about eight minutes: a card every fourth shot, a hit in every second shot.
House house (std::mt19937& random)
{
    House made;
    std::uniform_real_distribution<double> length (3, 9), into (.3, .9);
    for (std::size_t i = 0; i < 160; ++i)
    {
        ShowShot shot;
        shot.card = i % 4 == 1;
        shot.seconds = shot.card ? 4.5 : length (random);
        shot.reel = i < 80 ? 0 : 1;
        shot.words = shot.card ? "Card number " + std::to_string (i) : "";
        made.shots.push_back (shot);
        made.events.push_back ({ shot.card ? ShowKind::card : ShowKind::cut, i, 0, std::to_string (i), "" });
        if (i % 2 == 0)
            made.events.push_back ({ ShowKind::hit, i, shot.seconds * into (random), "hit " + std::to_string (i), "" });
    }
    made.missing = { 42, 43, 44 };
    return made;
}

struct Told
{
    std::vector<double> errors; ///< seconds, of the next hit, foretold at the tap before it
    int taps = 0, wrong = 0, leftOut = 0;
};

/// Runs the whole evening. The projector's speed swings within `drift` of the planned one, once in ten minutes. Cards are tapped
/// nine times in ten, other cuts as often as `cuts` says. Taps are off by a normal spread of `ragged` seconds, or `bounded`: evenly
/// within it.
Told evening (unsigned seed, double drift, double ragged, double cuts, bool bounded)
{
    std::mt19937 random (seed);
    std::normal_distribution<double> spread (0, ragged);
    std::uniform_real_distribution<double> within (-ragged, ragged);
    const auto hand = [&] (std::mt19937& from) { return bounded ? within (from) : spread (from); };
    std::uniform_real_distribution<double> phase (0, 6.28), chance (0, 1);
    const auto film = house (random);
    auto show = *Showing::of (film.shots, film.events);
    const double swing = phase (random), off = drift * .4 * std::sin (swing);
    Told told;
    double clock = 100; // the house's clock
    const auto speedAt = [&] (double at) { return 1 + off + (drift - std::abs (off)) * std::sin (at / 600 * 6.28 + swing); };
    std::size_t shot = 0;
    for (std::size_t reel = 0; reel < 2; ++reel)
    {
        clock += 37; // between reels
        show.firstPicture (clock + hand (random) * 2);
        double foretold = -1; // house clock of the next hit; below zero: none
        double hitAt = 0;     // planned second it was foretold for
        int tapsInReel = 0;
        bool lackingBefore = false;
        for (; shot < film.shots.size() && film.shots[shot].reel == reel; ++shot)
        {
            if (film.missing.contains (shot))
            {
                lackingBefore = true;
                foretold = -1;
                continue;
            }
            // Always after a scene was missing, at its next card.
            const bool card = film.shots[shot].card;
            if (lackingBefore ? card : chance (random) < (card ? .9 : cuts))
            {
                const double at = clock + hand (random);
                if (lackingBefore)
                {
                    std::size_t event = 0;
                    for (std::size_t i = 0; i < show.all().size(); ++i)
                        if (show.all()[i].kind == ShowKind::card && show.all()[i].shot == shot)
                            event = i;
                    show.seen (event, at, true);
                    lackingBefore = false;
                    tapsInReel = 0; // found again: three taps from here on
                }
                else
                {
                    const auto event = show.tap (at);
                    ++told.taps;
                    if (! event)
                        ++told.leftOut;
                    else if (show.all()[*event].shot != shot)
                        ++told.wrong;
                }
                ++tapsInReel;
                foretold = -1;
                if (tapsInReel >= 3)
                    for (const auto next : show.coming (at, 40))
                        if (show.all()[next].kind == ShowKind::hit)
                        {
                            foretold = at + show.until (next, at);
                            hitAt = static_cast<double> (show.all()[next].shot);
                            break;
                        }
            }
            // The shot runs, in small steps, at the speed the projector has.
            double hitClock = -1;
            double into = -1;
            for (const auto& event : film.events)
                if (event.kind == ShowKind::hit && event.shot == shot)
                    into = event.into;
            for (double done = 0; done < film.shots[shot].seconds;)
            {
                const double step = .005;
                if (into >= done && into < done + step * speedAt (clock))
                    hitClock = clock + (into - done) / speedAt (clock);
                done += step * speedAt (clock);
                clock += step;
            }
            if (foretold > 0 && hitClock > 0 && hitAt == static_cast<double> (shot))
            {
                told.errors.push_back (std::abs (foretold - hitClock));
                foretold = -1;
            }
        }

        show.reelOver (clock);
    }
    return told;
}

double at (std::vector<double> values, double part)
{
    std::sort (values.begin(), values.end());
    return values[static_cast<std::size_t> (part * static_cast<double> (values.size() - 1))];
}
} // namespace

TEST_CASE ("a projector that drifts, stands and lacks a scene is followed by ragged taps")
{
    for (const bool bounded : { false, true })
        for (const double cuts : { 0.0, .3 })
        {
            std::vector<double> errors;
            int taps = 0, wrong = 0, leftOut = 0;
            for (unsigned seed = 1; seed <= 20; ++seed)
            {
                const auto told = evening (seed, .05, .08, cuts, bounded);
                errors.insert (errors.end(), told.errors.begin(), told.errors.end());
                taps += told.taps;
                wrong += told.wrong;
                leftOut += told.leftOut;
            }
            REQUIRE (errors.size() > 300);
            const auto within = std::count_if (errors.begin(), errors.end(), [] (double off) { return off <= .15; });
            WARN ("20 evenings, drift within 5 %, taps "
                  << (bounded ? "within 80 ms" : "with a standard deviation of 80 ms") << ", "
                  << (cuts > 0 ? "cards and three cuts in ten" : "cards only")
                  << ", from the third tap of a reel on: the next hit is foretold within " << std::llround (at (errors, .5) * 1000)
                  << " ms in half of " << errors.size() << " cases, within " << std::llround (at (errors, .9) * 1000)
                  << " in nine of ten, at worst " << std::llround (at (errors, 1) * 1000) << "; within 150 ms in "
                  << 100 * within / static_cast<std::ptrdiff_t> (errors.size()) << " %; " << taps << " taps, " << wrong
                  << " taken for another card, " << leftOut << " left out");
            CHECK (wrong == 0);
            CHECK (leftOut * 50 < taps);
            CHECK (at (errors, .5) <= .08);
            CHECK (at (errors, bounded ? .9 : .8) <= .15);
        }
}

TEST_CASE ("the showing holds between reels, knows cards by their letters, and takes a tap back")
{
    std::vector<ShowShot> shots{ { 10, 0, false, "" },
                                 { 5, 0, true, "Meanwhile at the mill" },
                                 { 20, 0, false, "" },
                                 { 8, 1, false, "" },
                                 { 5, 1, true, "The miller returns" } };
    std::vector<ShowEvent> events{ { ShowKind::card, 1, 0, "card", "" },      { ShowKind::hit, 2, 10, "the wheel", "" },
                                   { ShowKind::cut, 2, 0, "cut", "" },        { ShowKind::card, 4, 0, "card 2", "" },
                                   { ShowKind::cueIn, 0, 0, "1M1", "waltz" }, { ShowKind::cueOut, 2, 15, "1M1", "" } };
    CHECK_FALSE (Showing::of ({}, {}).ok());
    CHECK_FALSE (Showing::of (shots, { { ShowKind::hit, 9, 0, "nowhere", "" } }).ok());
    auto show = *Showing::of (shots, events);
    CHECK (show.seconds (3) == 0);
    CHECK_FALSE (show.tap (3).has_value());
    show.firstPicture (5);
    CHECK (show.seconds (9) == Approx (4));
    REQUIRE (show.cueNow (9).has_value());
    CHECK (show.all()[*show.cueNow (9)].detail == "waltz");
    const auto before = show;
    const auto event = show.tap (15.2); // a fifth of a second late, or the projector is slow
    REQUIRE (event.has_value());
    CHECK (show.all()[*event].label == "card");
    CHECK (show.speed() < 1);
    show = before; // taken back
    CHECK (show.speed() == 1);
    CHECK (show.taps() == 0);
    // A tap where nothing is near changes nothing.
    CHECK_FALSE (show.tap (11).has_value());
    CHECK (show.taps() == 0);
    // Without the scene of shot 2 the second reel comes at once.
    const auto like = show.cardsLike ("MIL", 9);
    REQUIRE (like.size() == 2);
    CHECK (show.all()[like[0]].label == "card");
    CHECK (show.cardsLike ("ill", 9).empty()); // no word begins so
    show.reelOver (30);
    CHECK (show.reel() == 1);
    CHECK (show.seconds (60) == Approx (35));
    show.firstPicture (70);
    CHECK (show.seconds (71) == Approx (36));
    show.strike (3, true);
    CHECK (show.lacksShot (3));
    CHECK (show.coming (71, 9).empty());
    show.strike (3, false);
    show.seen (like[1], 80, true);
    CHECK (show.lacksShot (3) == false); // it was under way when the card was seen
    CHECK (show.seconds (80) == Approx (43));
}
