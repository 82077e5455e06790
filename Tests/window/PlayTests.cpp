#include "OnBench.h"

#include "spotting/Edit.h"
#include "window/Actions.h"

#include <algorithm>
#include <random>

using namespace shutterbeat;
using tests::OnBench;

namespace
{
constexpr std::int64_t ms = 1'000'000;

std::int64_t frameOfSelected (const window::Bench& bench)
{
    for (const auto& row : bench.times()->hits)
        if (row.hit.id == bench.selected().front() && row.at)
            return row.at->filmFrame;
    return -1;
}

/// Runs the bench as a window does: a tick every 8 ms of the clock, which paints.
void runFor (OnBench& on, std::int64_t nanoseconds)
{
    constexpr std::int64_t tick = 8 * ms;
    for (std::int64_t gone = 0; gone < nanoseconds; gone += tick)
    {
        on.clock.now += std::min (tick, nanoseconds - gone);
        on.bench.tick();
    }
}
} // namespace

TEST_CASE ("a tap is answered with what was on screen when the key went down, not when it was handled")
{
    OnBench on ("keytime");
    on.bench.transport.play();
    const auto start = on.clock.now;
    runFor (on, 2000 * ms);
    // Down at 1.5 s, handled half a second later: delivered frame 37 was on screen, film frame 29.
    on.bench.keyDown = start + 1500 * ms;
    on.bench.tapHit();
    on.bench.keyDown.reset();
    CHECK (frameOfSelected (on.bench) == 29);
    // Somebody who taps 200 ms late meant the picture of 1.3 s: delivered frame 32, film frame 25.
    on.bench.tapLate = 200 * ms;
    on.bench.keyDown = start + 1500 * ms;
    on.bench.tapHit();
    CHECK (frameOfSelected (on.bench) == 25);
    // Who taps 80 ms early means a picture that is still to come: delivered frame 52, film frame 41.
    on.bench.tapLate = -80 * ms;
    on.bench.keyDown = start + 2000 * ms;
    on.bench.tapHit();
    CHECK (frameOfSelected (on.bench) == 41);
    // Standing, the picture on screen is meant.
    on.bench.transport.pause();
    on.bench.goTo (*on.bench.times()->timings.atFilmFrame (77));
    on.bench.keyDown = start;
    on.bench.tapHit();
    CHECK (frameOfSelected (on.bench) == 77);
}

TEST_CASE ("a simulated hand is calibrated, and its taps land on the pictures it meant")
{
    OnBench on ("tapper");
    std::mt19937 random (11);
    std::normal_distribution<double> ragged (95.0, 12.0); // milliseconds late, one standard deviation
    const auto hand = [&] (std::int64_t meant) { return meant + static_cast<std::int64_t> (ragged (random) * 1e6); };
    on.bench.startCalibration();
    REQUIRE (on.bench.panel == window::Panel::taps);
    for (int beat = 0; beat < 20; ++beat)
    {
        const auto at = hand (on.bench.calibrationStart + beat * window::Bench::calibrationInterval);
        on.clock.now = at + 15 * ms; // the key is handled a little later
        on.bench.keyDown = at;
        on.bench.calibrationTap();
    }
    on.bench.keyDown.reset();
    REQUIRE (on.bench.calibration->enough());
    on.bench.setTapLate (*on.bench.calibration->median());
    CHECK (on.bench.panel == window::Panel::ledger);

    const auto tapped = [&] (std::int64_t late)
    {
        on.bench.tapLate = late;
        int exact = 0, near = 0, all = 0;
        for (std::int64_t wanted = 10; wanted < 190; wanted += 6)
        {
            on.bench.transport.pause();
            on.bench.goTo (on.bench.times()->timings.shotHead (0));
            on.bench.transport.play();
            const auto start = on.clock.now;
            // Meant at the middle of the picture's time on screen: of 20 film frames a second at 25, picture w is first shown
            // by delivered frame ceil (5w/4).
            const auto firstOf = [] (std::int64_t w) { return (5 * w + 3) / 4; };
            const auto at = hand (start + (firstOf (wanted) + firstOf (wanted + 1)) * 20 * ms);
            runFor (on, at - start + 20 * ms);
            on.bench.keyDown = at;
            on.bench.tapHit();
            on.bench.keyDown.reset();
            const auto off = std::abs (frameOfSelected (on.bench) - wanted);
            exact += off == 0 ? 1 : 0;
            near += off <= 1 ? 1 : 0;
            ++all;
        }
        return std::tuple (exact, near, all);
    };
    const auto late = on.bench.tapLate;
    const auto [exact, near, all] = tapped (late);
    const auto [rawExact, rawNear, rawAll] = tapped (0);
    WARN ("a hand 95 ms late, 12 ms ragged, at 20 film frames a second: measured "
          << late / ms << " ms; on the picture meant " << exact << " of " << all << ", within one " << near << "; uncorrected "
          << rawExact << " and " << rawNear);
    CHECK (std::abs (late - 95 * ms) < 10 * ms);
    CHECK (near == all);
    CHECK (exact * 10 >= all * 8);
    CHECK (rawExact * 4 < exact);
}

TEST_CASE ("offsets and every kind of place can be typed")
{
    OnBench on ("typed");
    const auto at = [&] { return on.bench.transport.position().filmFrame; };
    on.bench.goToTyped ("film:100");
    CHECK (at() == 100);
    on.bench.goToTyped ("+24");
    CHECK (at() == 124);
    on.bench.goToTyped ("-24");
    CHECK (at() == 100);
    on.bench.goToTyped ("+2s"); // 50 delivered frames, 40 film frames
    CHECK (at() == 140);
    CHECK (on.bench.transport.delivered() == 175);
    on.bench.goToTyped ("-0.5s"); // 12.5 delivered frames: 13, later at a tie
    CHECK (on.bench.transport.delivered() == 163);
    on.bench.goToTyped ("-500s");
    CHECK (at() == 0);
    on.bench.goToTyped ("tc:01:00:04:00");
    CHECK (at() == 80);
    on.bench.goToTyped ("feet:5+00");
    CHECK (at() == 80);
    on.bench.goToTyped ("file:31");
    CHECK (at() == 31);
    on.bench.goToTyped ("edge:anna-3.head+7");
    CHECK (at() == 107);
    on.bench.goToTyped ("2.0s");
    CHECK (at() == 40);
    for (const char* bad : { "+", "-x", "+1.2.3s", "film:9999", "tc:99", "nowhere" })
    {
        on.bench.putMessageAway();
        on.bench.goToTyped (bad);
        INFO (bad);
        CHECK (on.bench.message.kind == window::Message::Kind::problem);
        CHECK (at() == 40);
    }
}

TEST_CASE ("cuts, cards and cues are gone to by their keys")
{
    OnBench on ("stops");
    const auto act = [&] (const char* id) { CHECK (perform (on.bench, window::actionNamed (id))); };
    const auto at = [&] { return on.bench.transport.position().filmFrame; };
    act ("play.nextCard");
    CHECK (at() == 50);
    act ("play.nextCard");
    CHECK (at() == 50);
    CHECK (on.bench.message.text == "There is no card after this.");
    act ("play.nextCut");
    CHECK (at() == 100);
    act ("play.previousCard");
    CHECK (at() == 50);
    act ("play.previousCue");
    CHECK (at() == 0);
    on.bench.goToTyped ("130");
    on.bench.cueIn();
    on.bench.goToTyped ("0");
    act ("play.nextCue");
    CHECK (at() == 130);
}

TEST_CASE ("a loop runs over the selected cue or hits, the stretch that was marked, or the cue here")
{
    OnBench on ("loop");
    const auto frames = [&]
    {
        REQUIRE (on.bench.transport.loop().has_value());
        return std::pair (on.bench.transport.loop()->in.filmFrame, on.bench.transport.loop()->out.filmFrame);
    };
    on.bench.select ({ "anna-6", "anna-8" });
    on.bench.toggleLoop();
    CHECK (frames() == std::pair<std::int64_t, std::int64_t> (55, 125));
    CHECK (on.bench.runningText() == "loop");
    on.bench.toggleLoop();
    CHECK_FALSE (on.bench.transport.loop().has_value());
    on.bench.select ({ "anna-10" });
    on.bench.toggleLoop();
    CHECK (frames() == std::pair<std::int64_t, std::int64_t> (0, 120));
    on.bench.toggleLoop();
    on.bench.select ({});
    on.bench.goToTyped ("30");
    on.bench.toggleLoop(); // the cue that runs here
    CHECK (frames() == std::pair<std::int64_t, std::int64_t> (0, 120));
    on.bench.toggleLoop();
    on.bench.goToTyped ("150");
    on.bench.toggleLoop();
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    on.bench.loopEnd();
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    on.bench.loopBegin();
    CHECK_FALSE (on.bench.transport.loop().has_value());
    on.bench.goToTyped ("199");
    on.bench.loopEnd();
    CHECK (frames() == std::pair<std::int64_t, std::int64_t> (150, 200));
    on.bench.transport.play();
    // It stood on the film's last picture, so it began with the loop: 62 delivered frames from 188 on. After 75 frames of
    // 40 ms it is 13 into it again, on delivered frame 201.
    runFor (on, 3000 * ms);
    CHECK (on.bench.transport.playing());
    CHECK (on.bench.transport.position().filmFrame == 160);
    on.bench.transport.pause();
    // Another rate keeps the pictures of the loop.
    on.bench.setRate ({ 24, false });
    CHECK (frames() == std::pair<std::int64_t, std::int64_t> (150, 200));
}

TEST_CASE ("pace, shuttle, pre-roll and crawl are reached from the bench and say what they do")
{
    OnBench on ("pace");
    const auto act = [&] (const char* id) { CHECK (perform (on.bench, window::actionNamed (id))); };
    act ("play.pace");
    CHECK (on.bench.runningText() == "at the book's speeds");
    on.bench.paceTyped ("18.18");
    CHECK (on.bench.transport.pace().speed == time::Rational (200, 11));
    CHECK (on.bench.runningText() == "at 200/11 film fr./s");
    on.bench.paceTyped ("many");
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    act ("play.pace");
    CHECK (on.bench.transport.pace() == play::Pace{});
    act ("play.shuttleOn");
    CHECK (on.bench.runningText() == "1/2 of the speed");
    act ("play.shuttleOn");
    act ("play.shuttleOn");
    CHECK (on.bench.runningText() == "2 times the speed");
    act ("play.toggle");
    CHECK_FALSE (on.bench.transport.playing());
    act ("play.shuttleBack");
    act ("play.shuttleBack");
    CHECK (on.bench.runningText() == "back");
    act ("play.toggle");
    on.bench.goToTyped ("100");
    act ("play.preRoll");
    act ("play.preRoll");
    CHECK (on.bench.transport.preRoll() == time::Rational (2));
    act ("play.fromBefore");
    CHECK (on.bench.transport.position().filmFrame == 60);
    act ("play.toggle");
    // 3, 5, 10 seconds, then bars: at 120 a minute in 4/4 a bar lasts two seconds, which are 40 film frames.
    for (int i = 0; i < 4; ++i)
        act ("play.preRoll");
    CHECK (on.bench.preRollBars == 1);
    on.bench.goToTyped ("100");
    act ("play.fromBefore");
    CHECK (on.bench.message.kind == window::Message::Kind::problem); // the cue has no tempo yet
    auto book = desk::withTempo (on.bench.book(), "anna-10", music::TempoMap::steady (120), time::Rational (0));
    on.bench.take ("tempo", std::move (book));
    act ("play.fromBefore");
    // Bar 3 begins at film frame 80; a bar before it at 40.
    CHECK (on.bench.transport.position().filmFrame == 40);
    act ("play.toggle");
    act ("play.preRoll");
    CHECK (on.bench.preRollBars == 2);
    act ("play.preRoll");
    act ("play.preRoll");
    CHECK (on.bench.preRollBars == 0);
    on.bench.goToTyped ("100");
    on.bench.crawl (-1);
    CHECK (on.bench.transport.position().filmFrame == 99);
    runFor (on, 1000 * ms); // five film frames at a quarter of 20
    CHECK (on.bench.transport.position().filmFrame == 94);
    on.bench.crawl (0);
    runFor (on, 1000 * ms);
    CHECK (on.bench.transport.position().filmFrame == 94);
}

TEST_CASE ("names among thousands are given without working out every time anew")
{
    OnBench on ("quick");
    const auto before = on.bench.times()->hits;
    on.bench.rename ("anna-6", "another name");
    CHECK (spotting::hitOf (on.bench.book(), "anna-6")->label == "another name");
    const auto fresh = spotting::timesOf (on.bench.book());
    REQUIRE (fresh.ok());
    const auto agrees = [&] (const spotting::BookTimes& full)
    {
        REQUIRE (on.bench.times()->hits.size() == full.hits.size());
        for (std::size_t i = 0; i < full.hits.size(); ++i)
        {
            CHECK (on.bench.times()->hits[i].hit == full.hits[i].hit);
            CHECK (on.bench.times()->hits[i].place == full.hits[i].place);
            REQUIRE (on.bench.times()->hits[i].at.has_value() == full.hits[i].at.has_value());
            CHECK (on.bench.times()->hits[i].at->timecode == full.hits[i].at->timecode);
        }
        REQUIRE (on.bench.times()->cues.size() == full.cues.size());
        for (std::size_t i = 0; i < full.cues.size(); ++i)
            CHECK (on.bench.times()->cues[i].hits == full.cues[i].hits);
        CHECK (on.bench.times()->notes == full.notes);
    };
    agrees (*fresh);
    // Whatever is done in whatever order, and undone, the times are those of the book.
    std::mt19937 random (3);
    for (int i = 0; i < 60; ++i)
    {
        const auto id = "anna-" + std::to_string (5 + static_cast<int> (random() % 5));
        on.bench.select ({ id });
        switch (random() % 7)
        {
        case 0:
            on.bench.rename (id, "name " + std::to_string (i));
            break;
        case 1:
            on.bench.cycleKind();
            break;
        case 2:
            on.bench.cycleWeight();
            break;
        case 3:
            on.bench.nudge (static_cast<std::int64_t> (random() % 9) - 4);
            break;
        case 4:
            on.bench.undo();
            break;
        case 5:
            on.bench.redo();
            break;
        default:
            on.bench.goToTyped (std::to_string (random() % 120));
            on.bench.putInCue();
        }
        const auto full = spotting::timesOf (on.bench.book());
        REQUIRE (full.ok());
        agrees (*full);
    }
}

TEST_CASE ("marks for the conductor stay off until the caution was read, and lie on the hits' delivered frames")
{
    OnBench on ("marks");
    on.bench.select ({ "anna-7" });
    while (spotting::hitOf (on.bench.book(), "anna-7")->weight != spotting::Weight::must)
        on.bench.cycleWeight();
    perform (on.bench, window::actionNamed ("overlay.timecode"));
    CHECK (on.bench.overlay().timecode);
    perform (on.bench, window::actionNamed ("overlay.punches"));
    CHECK_FALSE (on.bench.overlay().punches);
    REQUIRE (on.bench.question.has_value());
    CHECK (on.bench.question->text.find (overlay::flashCaution) != std::string::npos);
    on.bench.answer (0); // the safe answer
    CHECK_FALSE (on.bench.overlay().punches);
    CHECK_FALSE (on.bench.cautionRead);
    perform (on.bench, window::actionNamed ("overlay.streamers"));
    REQUIRE (on.bench.question.has_value());
    on.bench.answer (1);
    CHECK (on.bench.cautionRead);
    CHECK (on.bench.overlay().streamers);
    perform (on.bench, window::actionNamed ("overlay.punches")); // asked once
    CHECK_FALSE (on.bench.question.has_value());
    CHECK (on.bench.overlay().punches);
    const auto hit = std::find_if (on.bench.times()->hits.begin(), on.bench.times()->hits.end(),
                                   [] (const spotting::HitTimes& row) { return row.hit.id == "anna-7"; });
    const auto at = hit->at->delivered;
    const auto punched = [&] (std::int64_t frame)
    {
        const auto marks = on.bench.markPlan().at (frame);
        return std::any_of (marks.begin(), marks.end(),
                            [] (const overlay::ShownMark& mark) { return mark.kind == overlay::ShownMark::Kind::punch; });
    };
    CHECK_FALSE (punched (at - 1));
    CHECK (punched (at));
    CHECK (punched (at + 1));
    CHECK_FALSE (punched (at + 2));
    // Moved, its marks move with it.
    on.bench.nudge (4);
    CHECK_FALSE (punched (at));
    CHECK (punched (at + 5));
}
