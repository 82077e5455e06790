#include "OnBench.h"

#include "spotting/Edit.h"

#include <fstream>

using namespace shutterbeat;
using tests::OnBench;

namespace
{
std::int64_t frameOf (const window::Bench& bench, const std::string& hit)
{
    for (const auto& row : bench.times()->hits)
        if (row.hit.id == hit && row.at)
            return row.at->filmFrame;
    return -1;
}
} // namespace

TEST_CASE ("a tapped hit lies on the film frame that was on screen when the key went down")
{
    OnBench on ("tap");
    on.bench.transport.play();
    on.clock.advanceFrames (113, 25);
    on.bench.tick();
    CHECK (on.bench.transport.position().filmFrame == 90);
    // Time goes on, but the next picture is not on screen yet.
    on.clock.advanceFrames (1, 25);
    on.bench.tapHit();
    REQUIRE (on.bench.selected().size() == 1);
    CHECK (frameOf (on.bench, on.bench.selected().front()) == 90);
    CHECK (on.bench.transport.playing());
    // The tap did not set the clock back: the next picture comes when it was due.
    on.bench.tick();
    CHECK (on.bench.transport.delivered() == 114);
    CHECK (on.bench.book().hits.size() == 6);
    on.bench.undo();
    CHECK (on.bench.book().hits.size() == 5);
    on.bench.redo();
    CHECK (on.bench.book().hits.size() == 6);
}

TEST_CASE ("a drag of sixty moves is one step, a click without a move none (B56)")
{
    OnBench on ("drag");
    const auto& timings = on.bench.times()->timings;
    const auto before = on.bench.book();
    on.bench.beginDrag ("anna-6");
    for (int i = 0; i < 60; ++i)
        on.bench.dragTo (*timings.atFilmFrame (60 + i));
    CHECK (on.bench.book() == before);
    CHECK (on.bench.shown().filmFrame == 119);
    on.bench.dropDrag();
    CHECK (on.bench.steps()->all().size() == 2);
    CHECK (frameOf (on.bench, "anna-6") == 119);
    on.bench.undo();
    CHECK (on.bench.book() == before);
    on.bench.redo();
    CHECK (frameOf (on.bench, "anna-6") == 119);
    on.bench.undo();

    on.bench.beginDrag ("anna-6");
    on.bench.dropDrag();
    CHECK_FALSE (on.bench.steps()->canUndo());
    // There and back again is no step either.
    on.bench.beginDrag ("anna-6");
    on.bench.dragTo (*on.bench.times()->timings.atFilmFrame (99));
    on.bench.dragTo (*on.bench.times()->timings.atFilmFrame (55));
    on.bench.dropDrag();
    CHECK_FALSE (on.bench.steps()->canUndo());
    on.bench.beginDrag ("anna-6");
    on.bench.dragTo (*on.bench.times()->timings.atFilmFrame (99));
    on.bench.cancelDrag();
    on.bench.dropDrag();
    CHECK_FALSE (on.bench.steps()->canUndo());
    CHECK (on.bench.book() == before);
}

TEST_CASE ("five removed hits come back selected (B56)")
{
    OnBench on ("remove");
    std::vector<std::string> ids;
    for (const auto& hit : on.bench.book().hits)
        ids.push_back (hit.id);
    on.bench.select (ids);
    on.bench.removeSelected();
    CHECK (on.bench.book().hits.empty());
    CHECK (on.bench.selected().empty());
    CHECK (on.bench.steps()->undoName() == "remove 5 hits");
    on.bench.undo();
    CHECK (on.bench.book().hits.size() == 5);
    CHECK (on.bench.selected() == ids);
}

TEST_CASE ("another rate or speed changes all times and no place")
{
    OnBench on ("rate");
    const auto places = [&]
    {
        std::vector<film::Place> all;
        for (const auto& hit : on.bench.book().hits)
            all.push_back (hit.place);
        return all;
    };
    const auto before = places();
    const auto label = on.bench.times()->hits[4].at->timecode;
    on.bench.setRate ({ { 30000, 1001 }, true });
    CHECK (on.bench.book().delivery.from == time::Rational (30));
    CHECK (on.bench.times()->hits[4].at->timecode != label);
    CHECK (places() == before);
    on.bench.setSpeed (16);
    CHECK (on.bench.times()->hits[4].at->filmFrame == 160);
    CHECK (places() == before);
    on.bench.undo();
    on.bench.undo();
    CHECK (on.bench.times()->hits[4].at->timecode == label);
}

TEST_CASE ("a book that moves from 24 to 25 is asked which way")
{
    OnBench on ("ask");
    on.bench.setRate ({ 24, false });
    on.bench.setRate ({ 25, false });
    REQUIRE (on.bench.question.has_value());
    CHECK (on.bench.book().delivery.rate.perSecond == time::Rational (24));
    on.bench.answer (1);
    CHECK (on.bench.book().delivery.rate.perSecond == time::Rational (25));
    CHECK (on.bench.book().delivery.from == time::Rational (24));
    CHECK_FALSE (on.bench.question.has_value());
}

TEST_CASE ("a book somebody else has saved is not written over, and both can be kept")
{
    OnBench on ("conflict");
    on.bench.rename ("anna-5", "mine");
    auto theirs = store::loadBook (on.path);
    REQUIRE (theirs.ok());
    theirs->book.title = "theirs";
    REQUIRE (store::saveBook (on.path, theirs->book, theirs->stamp).ok());
    on.bench.save();
    CHECK (on.bench.dirty());
    REQUIRE (on.bench.question.has_value());
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    CHECK (store::loadBook (on.path)->book.title == "theirs");
    on.bench.answer (0);
    CHECK (on.bench.path() == on.folder + "/lantern (2).shutterbeat");
    CHECK (spotting::hitOf (store::loadBook (on.bench.path())->book, "anna-5")->label == "mine");
    CHECK (store::loadBook (on.path)->book.title == "theirs");
    CHECK_FALSE (on.bench.dirty());
}

TEST_CASE ("unsaved work is asked about before it is left")
{
    OnBench on ("leave");
    bool closed = false;
    on.bench.onQuit = [&] { closed = true; };
    on.bench.rename ("anna-5", "changed");
    CHECK (on.bench.dirty());
    on.bench.quit();
    CHECK_FALSE (closed);
    REQUIRE (on.bench.question.has_value());
    on.bench.answer (2);
    CHECK_FALSE (closed);
    on.bench.quit();
    on.bench.answer (0);
    CHECK (closed);
    CHECK (spotting::hitOf (store::loadBook (on.path)->book, "anna-5")->label == "changed");
}

TEST_CASE ("a film that has moved is said and found again: another one is refused")
{
    OnBench on ("missing", true);
    std::filesystem::create_directory (on.folder + "/attic");
    std::filesystem::rename (on.folder + "/film.mp4", on.folder + "/attic/reel.mp4");
    std::ofstream (on.folder + "/not-a-film.mp4") << "no";
    on.bench.openPath (on.path);
    REQUIRE (on.bench.missing().size() == 1);
    CHECK (on.bench.message.text.find ("film.mp4") != std::string::npos);
    CHECK (on.bench.times()->hits.size() == 5);
    on.bench.rename ("anna-5", "still works");
    on.bench.relinkMissing (0, on.folder + "/not-a-film.mp4");
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    CHECK (on.bench.missing().size() == 1);
    on.bench.relinkMissing (0, on.folder + "/attic/reel.mp4");
    CHECK (on.bench.missing().empty());
    on.bench.save();
    CHECK_FALSE (on.bench.dirty());
    CHECK (store::loadBook (on.path)->book.prints[0].reels[0].path == "attic/reel.mp4");
    CHECK (spotting::hitOf (on.bench.book(), "anna-5")->label == "still works");
}

TEST_CASE ("a new book is made from a film: without a speed to go by it says so")
{
    const auto folder = tests::freshFolder ("new");
    tests::ManualClock clock;
    tests::AtOnce runner;
    window::Bench bench (clock, runner, "bo");
    CHECK_FALSE (bench.hasBook());
    bench.tapHit();
    CHECK (bench.message.text.find ("Ctrl+O") != std::string::npos);
    desk::NewBook wanted;
    wanted.files = { tests::makeFilm (folder) };
    bench.startNewBook (wanted, folder + "/made.shutterbeat");
    CHECK_FALSE (bench.hasBook());
    // Asked once the film is looked through; the answer needs no second scan.
    REQUIRE (bench.question.has_value());
    REQUIRE (bench.question->choices.size() == window::usualSpeeds().size() + 1);
    std::filesystem::rename (folder + "/film.mp4", folder + "/away.mp4");
    bench.answer (1);
    REQUIRE (bench.hasBook());
    REQUIRE (bench.missing().size() == 1);
    CHECK (bench.missing().front().why == "the file is not there");
    CHECK (bench.dirty());
    CHECK (bench.times()->timings.edition().speed == time::Rational (18));
    CHECK (bench.times()->timings.edition().shots.size() >= 4);
    bench.save();
    CHECK_FALSE (bench.dirty());
    CHECK (store::loadBook (folder + "/made.shutterbeat").ok());
    std::filesystem::remove_all (folder);
}

TEST_CASE ("an unreadable book leaves the open one as it is")
{
    OnBench on ("bad");
    std::ofstream (on.folder + "/bad.shutterbeat") << "{ \"no\": ";
    on.bench.openPath (on.folder + "/bad.shutterbeat");
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    CHECK (on.bench.message.text.find ("bad.shutterbeat") != std::string::npos);
    CHECK (on.bench.path() == on.path);
    CHECK (on.bench.book().hits.size() == 5);
}

TEST_CASE ("hits on one picture are each reached, and a card's hit keeps to its edge")
{
    OnBench on ("walk");
    on.bench.goToTyped ("20");
    CHECK (on.bench.transport.position().filmFrame == 20);
    on.bench.tapHit();
    std::vector<std::string> seen;
    on.bench.goToTyped ("0");
    on.bench.select ({});
    for (int i = 0; i < 6; ++i)
    {
        on.bench.toHit (1);
        seen.push_back (on.bench.selected().front());
    }
    std::sort (seen.begin(), seen.end());
    CHECK (std::unique (seen.begin(), seen.end()) == seen.end());
    // The card hit, dragged to the card's head, stands on the edge from then on.
    on.bench.beginDrag ("anna-6");
    on.bench.dragTo (*on.bench.times()->timings.atFilmFrame (50));
    on.bench.dropDrag();
    CHECK (std::holds_alternative<film::EdgePlace> (spotting::hitOf (on.bench.book(), "anna-6")->place));
    on.bench.goToTyped ("film:9999");
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
}

TEST_CASE ("cues begin and end at the picture on screen")
{
    OnBench on ("cue");
    on.bench.goToTyped ("130");
    on.bench.cueIn();
    REQUIRE (on.bench.book().cues.size() == 2);
    CHECK (on.bench.book().cues[1].number == "1M2");
    on.bench.goToTyped ("180");
    on.bench.cueOut();
    CHECK (on.bench.times()->cues[1].in->filmFrame == 130);
    CHECK (on.bench.times()->cues[1].out->filmFrame == 180);
    on.bench.goToTyped ("100");
    on.bench.cueOut(); // before its in
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    on.bench.select ({ "anna-9" });
    on.bench.goToTyped ("140");
    on.bench.putInCue();
    CHECK (spotting::hitOf (on.bench.book(), "anna-9")->cue == on.bench.book().cues[1].id);
}
