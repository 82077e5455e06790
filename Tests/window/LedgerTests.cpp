// What the parts of the ledger do to the book, without a window; and that the window shows them.
#include "Opened.h"

#include "desk/CueClick.h"
#include "spotting/Edit.h"
#include "window/Actions.h"
#include "window/RecutChanges.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <set>

using namespace shutterbeat;
using tests::OnBench;
using tests::Opened;
using window::LedgerPage;

namespace
{
/// Hits of the cue on beats of 100 a minute from half a second after its in on, musts within a frame.
void beatHits (OnBench& on)
{
    std::vector<spotting::HitPoint> hits;
    for (const int beat : { 0, 2, 3, 5, 8 })
    {
        spotting::HitPoint hit;
        // 20 film frames a second: beats of 0.6 s are 12 frames.
        hit.place = film::PicturePlace{ "print-1", 10 + 12 * beat, 0 };
        hit.label = "beat " + std::to_string (beat);
        hit.weight = spotting::Weight::must;
        hit.cue = "anna-10";
        hits.push_back (hit);
    }
    for (const auto& old : on.bench.book().hits)
        on.bench.select ({ old.id });
    std::vector<std::string> ids;
    for (const auto& old : on.bench.book().hits)
        ids.push_back (old.id);
    on.bench.select (ids);
    on.bench.removeSelected();
    auto added = spotting::addHits (on.bench.book(), "anna", hits);
    REQUIRE (added.ok());
    on.bench.take ("hits", std::move (added->book));
}
} // namespace

TEST_CASE ("a tempo is found for a cue's hits, tried before it is anybody's, and taken as one step")
{
    OnBench on ("tempo");
    beatHits (on);
    on.bench.showPage (LedgerPage::tempo);
    on.bench.tempo.setRange ("80-130");
    on.bench.tempo.refresh();
    const auto* answer = on.bench.tempo.answer();
    INFO (on.bench.tempo.trouble());
    REQUIRE (answer != nullptr);
    CHECK (on.bench.tempo.cue() == "anna-10");
    CHECK (answer->hits.size() == 5);
    REQUIRE_FALSE (answer->best.empty());
    on.bench.tempo.chooseNear (100);
    REQUIRE (on.bench.tempo.chosen().has_value());
    const auto& listed = answer->best[*on.bench.tempo.chosen()];
    CHECK (std::abs (listed.point.beatsPerMinute - 100) < 2); // hits lie on delivered frames, the musts have limits
    CHECK (listed.within == 5);
    const auto before = on.bench.book();
    const auto tried = on.bench.tempo.tried();
    REQUIRE (tried.has_value());
    CHECK (spotting::cueOf (*tried, "anna-10")->tempo.has_value());
    CHECK (on.bench.book() == before); // nothing is written yet
    CHECK (perform (on.bench, window::actionNamed ("tempo.take")));
    REQUIRE (spotting::cueOf (on.bench.book(), "anna-10")->tempo.has_value());
    CHECK (spotting::cueOf (on.bench.book(), "anna-10")->tempo->opening().beatsPerMinute == listed.beatsPerMinute);
    on.bench.undo();
    CHECK (on.bench.book() == before);
    on.bench.tempo.setRange ("130-80");
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    CHECK (on.bench.tempo.rangeText() == "80-130");
}

TEST_CASE ("a beat tapped along with the picture becomes the cue's tempo")
{
    OnBench on ("tapped");
    on.bench.showPage (LedgerPage::tempo);
    on.bench.tempo.follow();
    on.bench.transport.play();
    on.bench.tick();
    constexpr std::int64_t ms = 1'000'000;
    const auto start = on.clock.now;
    // 96 a minute: 625 ms, the first half a second in, each tap a little off.
    const int ragged[] = { 12, -9, 4, -14, 8, 0, -3, 10 };
    for (int i = 0; i < 8; ++i)
    {
        on.clock.now = start + (500 + 625 * i + ragged[i] + 20) * ms;
        on.bench.tick();
        on.bench.keyDown = start + (500 + 625 * i + ragged[i]) * ms;
        on.bench.tempo.tap();
        on.bench.keyDown.reset();
    }
    REQUIRE (on.bench.tempo.tapped().has_value());
    CHECK (on.bench.tempo.tapped()->beatsPerMinute() == Approx (96).margin (.7));
    CHECK (on.bench.tempo.tapped()->firstBeat == Approx (.5).margin (.02));
    on.bench.tempo.takeTapped();
    const auto& tempo = spotting::cueOf (on.bench.book(), "anna-10")->tempo;
    REQUIRE (tempo.has_value());
    CHECK (time::toDouble (tempo->opening().beatsPerMinute) == Approx (96).margin (.7));
}

TEST_CASE ("cuts are made, taken back, moved by a threshold: shots are locked and named what they are")
{
    OnBench on ("cuts", true);
    on.bench.showPage (LedgerPage::film);
    const auto shots = [&] { return on.bench.times()->timings.edition().shots; };
    const auto before = on.bench.book();
    REQUIRE (shots().size() == 4);
    on.bench.goToTyped ("20");
    CHECK (perform (on.bench, window::actionNamed ("film.cut")));
    REQUIRE (shots().size() == 5);
    CHECK (shots()[1].first == 20);
    CHECK (shots()[1].locked);
    on.bench.goToTyped ("25");
    CHECK (perform (on.bench, window::actionNamed ("film.join")));
    CHECK (shots().size() == 4);
    CHECK (perform (on.bench, window::actionNamed ("film.kind")));
    CHECK (shots()[0].kind == film::ShotKind::card);
    CHECK (perform (on.bench, window::actionNamed ("film.lock")));
    CHECK_FALSE (shots()[0].locked);
    CHECK (perform (on.bench, window::actionNamed ("film.source")));
    CHECK (on.bench.panel == window::Panel::shotSource);
    on.bench.cuts.setSource (shots()[0].id, true, "retranslated");
    CHECK (on.bench.panel == window::Panel::ledger);
    CHECK (shots()[0].making() == "remade");
    CHECK (shots()[0].reason == "retranslated");
    for (int i = 0; i < 5; ++i)
        on.bench.undo();
    // Numbers of shots that were given out are not given again.
    CHECK (on.bench.book().editions == before.editions);

    on.bench.cuts.refresh();
    INFO (on.bench.message.text);
    REQUIRE (on.bench.cuts.result() != nullptr);
    on.bench.cuts.setThreshold (.25);
    const auto usual = on.bench.cuts.result()->shots.size();
    on.bench.cuts.setThreshold (.97);
    CHECK (on.bench.cuts.result()->shots.size() <= usual);
    on.bench.cuts.setThreshold (.02);
    CHECK (on.bench.cuts.result()->shots.size() >= usual);
    on.bench.cuts.setThreshold (.25);
    CHECK (on.bench.book().editions == before.editions);
    CHECK (perform (on.bench, window::actionNamed ("film.takeCuts")));
    CHECK (on.bench.message.text.find ("cuts:") != std::string::npos);
    CHECK (on.bench.steps()->canUndo());
}

TEST_CASE ("what is ticked is made into the folder, and a sheet's pages are looked at first")
{
    OnBench on ("handing", true);
    on.bench.showPage (LedgerPage::handOver);
    auto& desk = on.bench.handOver;
    CHECK (desk.count() > 15);
    desk.chooseAll (false);
    CHECK (desk.count() == 0);
    desk.make();
    CHECK (on.bench.message.text == "Nothing is ticked.");
    desk.toggle ("csv");
    desk.toggle ("cue-list");
    REQUIRE (desk.count() == 2);
    CHECK (perform (on.bench, window::actionNamed ("handOver.make")));
    INFO (on.bench.message.text);
    CHECK (std::filesystem::exists (on.folder + "/handover/hits.csv"));
    CHECK (std::distance (std::filesystem::directory_iterator (on.folder + "/handover"), {}) == 2);
    desk.look ("cue-list");
    INFO (on.bench.message.text);
    REQUIRE (desk.preview() != nullptr);
    REQUIRE_FALSE (desk.preview()->pages.empty());
    const auto& page = desk.preview()->pages.front();
    CHECK (page.height > page.width / 2);
    CHECK (std::count_if (page.rgb.begin(), page.rgb.end(), [] (std::uint8_t value) { return value < 96; }) > 500); // ink
    desk.look ("csv");                                                                                              // has no pages
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    desk.setFolder ("/proc/nowhere");
    desk.make();
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
}

TEST_CASE ("a new print is matched in the window, and what is in doubt is decided there")
{
    const char* demo = std::getenv ("SHUTTERBEAT_DEMO_FOLDER");
    if (demo == nullptr || ! std::filesystem::exists (std::string (demo) + "/edition-b.mp4"))
    {
        WARN ("skipped: SHUTTERBEAT_DEMO_FOLDER names no folder with the demo film");
        return;
    }
    OnBench on ("recut");
    desk::NewBook wanted;
    wanted.files = { std::string (demo) + "/edition-a.mp4" };
    wanted.running = time::Rational (20);
    auto made = desk::newBook (on.folder + "/film.shutterbeat", wanted, {});
    REQUIRE (made.ok());
    REQUIRE (desk::saveBook (made->open).ok());
    on.bench.openPath (on.folder + "/film.shutterbeat");
    REQUIRE (on.bench.times() != nullptr);
    // A cue over the whole film, so that what changes in it asks for a remedy.
    spotting::Cue cue;
    cue.number = "1M1";
    const auto& shots = on.bench.times()->timings.edition().shots;
    cue.in = film::EdgePlace{ shots.front().id };
    cue.out = film::EdgePlace{ shots.back().id, film::Edge::tail };
    auto cued = spotting::addCue (on.bench.book(), "anna", cue, on.bench.times()->timings);
    INFO ((cued.ok() ? std::string() : cued.error().text()));
    REQUIRE (cued.ok());
    on.bench.take ("a cue", std::move (cued->book));
    on.bench.showPage (LedgerPage::recut);
    on.bench.recut.refresh();
    CHECK (on.bench.recut.carried() == nullptr);
    CHECK (on.bench.recut.remedies().empty());
    on.bench.recut.start (on.folder + "/missing.mp4");
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    on.bench.recut.start (std::string (demo) + "/edition-b.mp4");
    INFO (on.bench.message.text);
    REQUIRE (on.bench.book().edition == "B");
    on.bench.recut.refresh();
    REQUIRE (on.bench.recut.carried() != nullptr);
    CHECK_FALSE (on.bench.recut.changes().empty());
    // What may be done stands in the list, least change first, with its cost; a press goes where it happens.
    REQUIRE_FALSE (on.bench.recut.remedies().empty());
    const auto& ways = on.bench.recut.remedies().front().ways;
    REQUIRE_FALSE (ways.empty());
    window::RecutChanges rows (on.bench);
    rows.refresh (360);
    const auto spoken = [&]
    {
        std::string all;
        for (int row = 0; row < rows.rowCount(); ++row)
            all += rows.rowName (row).toStdString() + "\n";
        return all;
    }();
    CHECK (spoken.find ("Inside cues, and what may be done") == 0);
    CHECK (spoken.find ("cost ") != std::string::npos);
    CHECK (spoken.find ("write it anew") != std::string::npos); // nothing is recorded yet
    const auto frame = [&] { return on.bench.times()->timings.times (on.bench.shown()).delivered; };
    const auto was = frame();
    rows.rowPressed (1, {});
    CHECK (frame() != was);
    while (on.bench.recut.looked() != nullptr)
    {
        const auto left = on.bench.recut.pending().size();
        on.bench.recut.decide (left % 2 == 0 ? spotting::Answer::other : spotting::Answer::same);
        on.bench.recut.refresh();
        REQUIRE (on.bench.recut.pending().size() < left);
    }
    on.bench.recut.decide (spotting::Answer::same);
    CHECK (on.bench.message.text == "Nothing waits to be decided.");
    while (on.bench.steps()->canUndo())
        on.bench.undo();
    CHECK (on.bench.book().edition == "A");
}

TEST_CASE ("recorded music is placed and compared with the hits in the window")
{
    OnBench on ("lineup");
    beatHits (on);
    auto tempo = desk::withTempo (on.bench.book(), "anna-10", music::TempoMap::steady (100), time::Rational (1, 2));
    on.bench.take ("tempo", std::move (tempo));
    on.bench.showPage (LedgerPage::lineUp);
    on.bench.lineUp.check();
    CHECK (on.bench.message.text.find ("no sound yet") != std::string::npos);
    on.bench.lineUp.add (on.folder + "/nothing.wav");
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    // The cue's own click is music that meets its beats; its time stamp says where it belongs.
    const auto click = on.folder + "/1M1 click.wav";
    const auto written = desk::writeClick (*on.bench.times(), "anna-10", {}, click);
    REQUIRE (written.ok());
    on.bench.lineUp.add (click);
    INFO (on.bench.message.text);
    REQUIRE (on.bench.lineUp.sound() != nullptr);
    on.bench.lineUp.check();
    const auto* lined = on.bench.lineUp.lined();
    REQUIRE (lined != nullptr);
    REQUIRE (lined->hits.size() == 5);
    CHECK (desk::countsOf (*lined).within >= 4);
    for (const auto& hit : lined->hits)
        if (hit.heard)
            CHECK (std::abs (hit.lateMs) < 45); // hits lie on delivered frames of 40 ms
    on.bench.lineUp.look (2);
    CHECK (on.bench.lineUp.hit() == 2);
    CHECK (on.bench.isSelected (on.bench.times()->hits[lined->hits[2].row].hit.id));
    on.bench.lineUp.hear();
    CHECK (on.bench.transport.playing());
    on.bench.transport.pause();
    // A hit that has moved makes what was heard an old story.
    on.bench.select ({ on.bench.times()->hits[0].hit.id });
    on.bench.nudge (3);
    on.bench.lineUp.refresh();
    CHECK (on.bench.lineUp.lined() == nullptr);
}

TEST_CASE ("the history names every step and goes to any of them")
{
    OnBench on ("history");
    const auto before = on.bench.book();
    on.bench.rename ("anna-5", "one");
    on.bench.rename ("anna-6", "two");
    on.bench.rename ("anna-7", "three");
    const auto after = on.bench.book();
    REQUIRE (on.bench.steps()->all().size() == 4);
    on.bench.goToStep (1);
    CHECK (spotting::hitOf (on.bench.book(), "anna-5")->label == "one");
    CHECK (spotting::hitOf (on.bench.book(), "anna-6")->label == "hit 2");
    on.bench.goToStep (0);
    CHECK (on.bench.book() == before);
    on.bench.goToStep (3);
    CHECK (on.bench.book() == after);
    on.bench.goToStep (9);
    CHECK (on.bench.book() == after);
}

TEST_CASE ("a showing is followed by keys: first picture, taps, letters of a card, what is missing, and back")
{
    OnBench on ("showing");
    auto& live = on.bench.live;
    live.open();
    REQUIRE (live.isOpen());
    CHECK (live.houseText() == "the book's speeds");
    constexpr std::int64_t second = 1'000'000'000;
    live.startOrHold();
    const auto start = on.clock.now;
    // The card comes at film frame 50: 2.5 s at 20. It is tapped at 2.6: the projector is slow.
    on.clock.now = start + 26 * second / 10;
    live.tap (on.clock.now);
    CHECK (live.said == "Tapped: Meanwhile, at the harbour.");
    CHECK (live.show().taps() == 1);
    CHECK (live.show().speed() < 1);
    live.takeBack();
    CHECK (live.show().taps() == 0);
    CHECK (live.show().speed() == 1);
    for (const char c : std::string ("harb"))
        live.typeLetter (c);
    REQUIRE (live.matches().size() == 1);
    live.dropLetter();
    CHECK (live.letters() == "har");
    live.jumpToMatch();
    CHECK (live.show().seconds (live.clock()) == Approx (2.5));
    live.startOrHold();
    CHECK_FALSE (live.show().running());
    live.takeBack();
    CHECK (live.show().running());
    live.setHouse ("18");
    CHECK (live.houseText() == "18 film frames a second");
    CHECK (live.show().allShots().front().seconds == Approx (50.0 / 18));
    live.setHouse ("18.18");
    CHECK (live.houseText() == "18.18 film frames a second");
    live.setHouse ("90%");
    CHECK (live.show().allShots().front().seconds == Approx (50.0 / 18));
    live.setHouse ("never");
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    live.close();
    CHECK_FALSE (live.isOpen());
}

TEST_CASE ("every part of the ledger shows something and keeps the keyboard with the transport")
{
    Opened on ("parts");
    for (const auto& [id, page, part] : { std::tuple ("ledger.film", window::LedgerPage::film, "ledger.filmPart"),
                                          std::tuple ("ledger.tempo", window::LedgerPage::tempo, "ledger.tempoPart"),
                                          std::tuple ("ledger.recut", window::LedgerPage::recut, "ledger.recutPart"),
                                          std::tuple ("ledger.lineUp", window::LedgerPage::lineUp, "ledger.lineUpPart"),
                                          std::tuple ("ledger.handOver", window::LedgerPage::handOver, "ledger.handOverPart"),
                                          std::tuple ("ledger.cues", window::LedgerPage::cues, "ledger.spotting") })
    {
        INFO (id);
        auto* button = on.find (id);
        REQUIRE (button != nullptr);
        on.click (*button);
        CHECK (on.bench().page == page);
        REQUIRE (on.until ([&] { return on.bench().job == nullptr && ! on.bench().tempo.busy(); }));
        Opened::spin (100);
        auto* shown = on.find (part);
        REQUIRE (shown != nullptr);
        const auto image = shown->createComponentSnapshot (shown->getLocalBounds());
        std::set<juce::uint32> colours;
        for (int y = 0; y < image.getHeight(); y += 2)
            for (int x = 0; x < image.getWidth(); x += 2)
                colours.insert (image.getPixelAt (x, y).getARGB());
        CHECK (colours.size() > 20);
        on.space();
        CHECK (on.bench().transport.playing());
        on.space();
        CHECK_FALSE (on.bench().transport.playing());
    }
    // The showing takes the whole window, and its keys are its own.
    on.key (juce::KeyPress (juce::KeyPress::F9Key));
    REQUIRE (on.until ([&] { return on.find ("live") != nullptr; }));
    on.key (juce::KeyPress (juce::KeyPress::returnKey), '\r');
    CHECK (on.bench().live.show().running());
    on.key (juce::KeyPress ('m'), 'm');
    CHECK (on.bench().live.letters() == "m");
    CHECK (on.bench().live.matches().size() == 1);
    on.key (juce::KeyPress (juce::KeyPress::escapeKey));
    CHECK (on.bench().live.letters().empty());
    on.key (juce::KeyPress (juce::KeyPress::escapeKey));
    CHECK_FALSE (on.bench().live.isOpen());
    CHECK (on.until ([&] { return on.find ("live") == nullptr; }));
}
