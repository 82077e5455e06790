// Lists of hits and cues narrowed and edited in place, lists read in, films found in a folder, speeds, parcels, keys on paper.
#include "Opened.h"

#include "play/Reels.h"
#include "window/Actions.h"
#include "window/BandView.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <set>

using namespace shutterbeat;
using tests::OnBench;
using tests::Opened;
using tests::output;

namespace
{
const spotting::HitPoint& hit (const OnBench& on, const std::string& id)
{
    return *spotting::hitOf (on.bench.book(), id);
}

void write (const std::string& path, const std::string& bytes)
{
    std::ofstream (path, std::ios::binary) << bytes;
}
} // namespace

TEST_CASE ("many selected hits get a note, a lead, limits and who asked as one step")
{
    OnBench on ("many");
    on.bench.select ({ "anna-5", "anna-6", "anna-7" });
    const auto before = on.bench.book();
    on.bench.editHits ("note", [] (spotting::HitPoint& one) { one.note = "quieter"; });
    CHECK (hit (on, "anna-5").note == "quieter");
    CHECK (hit (on, "anna-7").note == "quieter");
    CHECK (hit (on, "anna-8").note.empty());
    CHECK (on.bench.selected().size() == 3);
    on.bench.undo();
    CHECK (on.bench.book() == before);
    // Anna, whom the book has, then whoever sits here, and round again.
    CHECK (perform (on.bench, window::actionNamed ("hit.askedBy")));
    CHECK (hit (on, "anna-5").askedBy == "anna");
    CHECK (perform (on.bench, window::actionNamed ("hit.askedBy")));
    CHECK (hit (on, "anna-6").askedBy == "bo");
    CHECK (perform (on.bench, window::actionNamed ("hit.askedBy")));
    CHECK (hit (on, "anna-7").askedBy == "anna");
    on.bench.select ({ "anna-10" });
    on.bench.editCues ("mood", [] (spotting::Cue& cue) { cue.mood = "misterioso"; });
    CHECK (spotting::cueOf (on.bench.book(), "anna-10")->mood == "misterioso");
    on.bench.undo();
    CHECK (spotting::cueOf (on.bench.book(), "anna-10")->mood.empty());
}

TEST_CASE ("lists are narrowed by words that stand anywhere in a row")
{
    OnBench on ("narrow");
    auto& filter = on.bench.filter;
    on.bench.select ({ "anna-6" });
    on.bench.editHits ("note", [] (spotting::HitPoint& one) { one.note = "The Lantern falls"; });
    const auto left = [&]
    {
        std::string ids;
        for (const auto& one : on.bench.book().hits)
            if (filter.lets (one, on.bench.book()))
                ids += one.id + " ";
        return ids;
    };
    CHECK_FALSE (filter.narrows());
    CHECK (left() == "anna-5 anna-6 anna-7 anna-8 anna-9 ");
    filter.words = "lantern";
    CHECK (filter.narrows());
    CHECK (left() == "anna-6 ");
    filter.words = "HIT card";
    CHECK (left() == "anna-6 "); // kind and label
    filter.words = "hit nothing";
    CHECK (left().empty());
    filter.words = "";
    filter.mustOnly = true;
    CHECK (left().empty());
    on.bench.select ({ "anna-9" });
    on.bench.cycleWeight();
    on.bench.cycleWeight();
    CHECK (left() == "anna-9 ");
    filter.openOnly = true;
    on.bench.toggleAgreed();
    CHECK (left().empty());
    filter = {};
    filter.words = "waltz";
    CHECK (filter.lets (*spotting::cueOf (on.bench.book(), "anna-10")));
    filter.words = "tango";
    CHECK_FALSE (filter.lets (*spotting::cueOf (on.bench.book(), "anna-10")));
}

TEST_CASE ("what a list would change is shown first, then taken as one step")
{
    OnBench on ("import");
    const auto path = on.folder + "/from-ida.csv";
    write (path,
           "place,kind,weight,label\nfilm:30,gag,must,Ladder falls\nfilm:9999,gag,must,Nowhere\nfilm:20,gag,must,Same place\n");
    CHECK (window::ImportDesk::formatOf ("a/b.EDL").has_value());
    CHECK_FALSE (window::ImportDesk::formatOf ("film.mp4").has_value());
    const auto before = on.bench.book();
    on.bench.lists.offer (path);
    CHECK (on.bench.panel == window::Panel::importList);
    REQUIRE (on.bench.lists.plan() != nullptr);
    CHECK (on.bench.book() == before);
    using Kind = desk::ImportChange::Kind;
    CHECK (on.bench.lists.plan()->count (Kind::added) == 1);
    CHECK (on.bench.lists.plan()->count (Kind::merged) == 1);
    CHECK (on.bench.lists.plan()->bad.size() == 1);
    const auto lines = on.bench.lists.lines();
    REQUIRE_FALSE (lines.empty());
    CHECK (lines.front().find ("left out (line 3)") == 0);
    on.bench.lists.take();
    CHECK (on.bench.book().hits.size() == before.hits.size() + 1);
    CHECK (on.bench.panel == window::Panel::ledger);
    on.bench.undo();
    CHECK (on.bench.book().hits == before.hits);
    CHECK (on.bench.book().cues == before.cues);
    // A book that has changed meanwhile is looked at again first.
    on.bench.lists.offer (path);
    on.bench.rename ("anna-5", "other");
    on.bench.lists.take();
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    CHECK (on.bench.book().hits.size() == before.hits.size());
    on.bench.lists.look (on.folder + "/none.csv");
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    CHECK (on.bench.message.text.find ("none.csv") != std::string::npos);
}

TEST_CASE ("missing films are found in a folder, under another name too, and another film of that name is not taken")
{
    OnBench on ("folder", true);
    on.bench.save();
    std::filesystem::create_directories (on.folder + "/stick/reels/deep");
    std::filesystem::create_directories (on.folder + "/stick/other");
    std::filesystem::rename (on.folder + "/film.mp4", on.folder + "/stick/reels/deep/renamed.mp4");
    output ("ffmpeg -v error -y -f lavfi -i testsrc=size=320x240:rate=25:duration=3 '" + on.folder + "/stick/other/film.mp4'");
    on.bench.openPath (on.path);
    REQUIRE (on.bench.missing().size() == 1);
    on.bench.relinkMissing (0, on.folder + "/stick/other");
    CHECK (on.bench.missing().size() == 1);
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    CHECK (on.bench.message.text.find ("75") != std::string::npos); // the frames of the other film
    on.bench.relinkMissing (0, on.folder + "/stick");
    INFO (on.bench.message.text);
    CHECK (on.bench.missing().empty());
    CHECK (on.bench.book().prints[0].reels[0].path == "stick/reels/deep/renamed.mp4");
    on.bench.undo();
    CHECK (on.bench.book().prints[0].reels[0].path == "film.mp4");
}

TEST_CASE ("a speed says what it would do before it is taken, for a shot, a run or the film")
{
    OnBench on ("speeds");
    auto& speeds = on.bench.speeds;
    const auto before = on.bench.book();
    speeds.type ("25");
    CHECK (speeds.effect().find ("0:10.00 becomes 0:08.00") == 0); // 200 film frames
    CHECK (speeds.effect().find ("125") != std::string::npos);     // per cent that old sound has to run at
    CHECK (on.bench.book() == before);
    speeds.setReach (window::SpeedsDesk::Reach::shot);
    on.bench.goToTyped ("60");
    speeds.take();
    const auto& shots = on.bench.times()->timings.edition().shots;
    REQUIRE (shots[1].speed.has_value());
    CHECK (*shots[1].speed == time::Rational (25));
    CHECK_FALSE (shots[0].speed.has_value());
    // The run of shots 3 and 4, which keep the film's speed.
    on.bench.goToTyped ("160");
    speeds.setReach (window::SpeedsDesk::Reach::run);
    speeds.type ("16");
    speeds.take();
    CHECK (on.bench.times()->timings.edition().shots[2].speed == time::Rational (16));
    CHECK (on.bench.times()->timings.edition().shots[3].speed == time::Rational (16));
    CHECK (on.bench.times()->timings.edition().shots[1].speed == time::Rational (25));
    speeds.setReach (window::SpeedsDesk::Reach::film);
    speeds.type ("18");
    speeds.take();
    for (const auto& shot : on.bench.times()->timings.edition().shots)
        CHECK_FALSE (shot.speed.has_value());
    speeds.type ("never");
    CHECK_FALSE (speeds.effect().empty());
    const auto now = on.bench.book();
    speeds.take();
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    CHECK (on.bench.book() == now);
    on.bench.undo();
    on.bench.undo();
    on.bench.undo();
    CHECK (on.bench.book() == before);
}

TEST_CASE ("a parcel is packed for a person, and the next one says what is new")
{
    OnBench on ("parcel", true);
    auto& parcels = on.bench.parcels;
    CHECK (parcels.person() == "anna");
    parcels.setMovie (false);
    CHECK (parcels.news().front() == "Nothing was sent to them yet.");
    CHECK (parcels.path() == on.folder + "/anna-1.zip");
    CHECK (perform (on.bench, window::actionNamed ("handOver.parcel")));
    INFO (on.bench.message.text);
    REQUIRE (std::filesystem::exists (on.folder + "/anna-1.zip"));
    REQUIRE (parcels.sent().size() == 1);
    CHECK (on.bench.dirty());
    CHECK (parcels.path() == on.folder + "/anna-2.zip");
    CHECK (parcels.news().front().find ("Nothing has changed since parcel 1") == 0);
    on.bench.rename ("anna-5", "the lamp goes out");
    const auto news = parcels.news();
    CHECK (std::any_of (news.begin(), news.end(),
                        [] (const auto& line) { return line.find ("the lamp goes out") != std::string::npos; }));
    // A parcel to a place that is taken is refused, and nothing changes.
    const auto before = on.bench.book();
    parcels.setPath (on.folder + "/anna-1.zip");
    parcels.make();
    CHECK (on.bench.message.kind == window::Message::Kind::problem);
    CHECK (on.bench.book() == before);
}

TEST_CASE ("what is handed over may be at another rate than the book's")
{
    OnBench on ("other-rate", true);
    auto& desk = on.bench.handOver;
    CHECK (desk.asTheBook());
    const auto before = on.bench.book();
    desk.setDelivery (film::Delivery{ { time::Rational (24000, 1001), false }, time::Rational (24) });
    desk.chooseAll (false);
    desk.toggle ("csv");
    desk.setFolder (on.folder + "/out");
    desk.make();
    INFO (on.bench.message.text);
    CHECK (on.bench.book() == before);
    const auto list = output ("cat '" + on.folder + "'/out/*.csv");
    CHECK (list.find ("23.976") != std::string::npos);
    desk.setDelivery ({});
    CHECK (desk.delivery() == before.delivery);
}

TEST_CASE ("the keys are printed: every action that has one, once")
{
    const auto folder = tests::freshFolder ("keys");
    const auto path = folder + "/keys.pdf";
    const std::string program = std::string (SHUTTERBEAT_BINARY_DIR) + "/shutterbeat-window";
    output ("env -u DISPLAY '" + program + "' --keys '" + path + "'");
    REQUIRE (std::filesystem::exists (path));
    const auto words = output ("pdftotext -layout '" + path + "' -");
    for (const auto& action : window::actions())
        if (! action.key.empty())
        {
            INFO (action.name);
            // A long name may be cut, never its key.
            CHECK (words.find (action.name.substr (0, 24)) != std::string::npos);
            CHECK (words.find (action.key) != std::string::npos);
        }
    CHECK (output ("pdffonts '" + path + "' | tail -n +3 | awk '{print $(NF-4)}' | sort -u") == "yes"); // embedded
    CHECK (std::stoi (output ("pdfinfo '" + path + "' | awk '/^Pages/ { print $2 }'")) <= 3);
    std::filesystem::remove_all (folder);
}

TEST_CASE ("the screen that does not hold the bench is taken for the picture")
{
    using window::PictureWindow;
    const juce::Rectangle<int> laptop (0, 0, 1280, 800), projector (1280, 0, 1920, 1080), bench (100, 50, 1000, 700);
    CHECK (PictureWindow::freeScreen ({ laptop }, bench).isEmpty());
    CHECK (PictureWindow::freeScreen ({ laptop, projector }, bench) == projector);
    CHECK (PictureWindow::freeScreen ({ laptop, projector }, bench.translated (1280, 0)) == laptop);
}

TEST_CASE ("the window: a note typed while it plays, the list narrowed, the picture apart, sounds and overview on the band")
{
    Opened on ("lists");
    auto& bench = on.bench();
    // Tap a hit and type a note on it; the film runs on.
    on.space();
    on.until ([&] { return bench.transport.deliveredInAll() > 5; });
    on.key (juce::KeyPress ('H'), 'h');
    REQUIRE (bench.selected().size() == 1);
    const auto tapped = bench.selected().front();
    CHECK (on.find ("bench")->keyPressed (juce::KeyPress (juce::KeyPress::returnKey, juce::ModifierKeys::shiftModifier, '\r')));
    auto* note = dynamic_cast<juce::TextEditor*> (on.find ("details.note"));
    REQUIRE (note != nullptr);
    REQUIRE (note->hasKeyboardFocus (true));
    for (const char c : std::string ("too loud"))
        on.key (juce::KeyPress (c == ' ' ? juce::KeyPress::spaceKey : c), static_cast<juce::juce_wchar> (c));
    on.key (juce::KeyPress (juce::KeyPress::returnKey), '\r');
    CHECK (spotting::hitOf (bench.book(), tapped)->note == "too loud");
    CHECK (bench.transport.playing());
    on.space();
    CHECK_FALSE (bench.transport.playing());

    // F goes to the field; what is typed narrows the list; Escape shows all.
    on.key (juce::KeyPress ('F'), 'f');
    auto* find = dynamic_cast<juce::TextEditor*> (on.find ("ledger.find"));
    REQUIRE (find != nullptr);
    REQUIRE (find->hasKeyboardFocus (true));
    // A screen that says only now that the window has the keyboard takes it from nobody; where nobody has it, the bench does.
    on.window->getPeer()->handleFocusGain();
    REQUIRE (find->hasKeyboardFocus (true));
    juce::Component::unfocusAllComponents();
    on.window->getPeer()->handleFocusGain();
    CHECK (on.find ("bench")->hasKeyboardFocus (false));
    find->grabKeyboardFocus();
    REQUIRE (find->hasKeyboardFocus (true));
    for (const char c : std::string ("loud"))
        on.key (juce::KeyPress (c), static_cast<juce::juce_wchar> (c));
    CHECK (find->getText() == "loud");
    CHECK (on.find (juce::String ("row-") + juce::String (tapped)) != nullptr);
    CHECK (on.find ("row-anna-5") == nullptr);
    on.key (juce::KeyPress (juce::KeyPress::escapeKey));
    CHECK (on.find ("row-anna-5") != nullptr);
    CHECK_FALSE (bench.filter.narrows());

    // The picture in a window of its own shows what the bench shows, and its keys are the bench's.
    on.key (juce::KeyPress (juce::KeyPress::F8Key));
    REQUIRE (bench.pictureApart);
    auto* apart = juce::TopLevelWindow::getTopLevelWindow (juce::TopLevelWindow::getNumTopLevelWindows() - 1);
    juce::Component* picture = nullptr;
    REQUIRE (on.until (
        [&]
        {
            for (int i = 0; i < juce::TopLevelWindow::getNumTopLevelWindows(); ++i)
                if (auto* one = juce::TopLevelWindow::getTopLevelWindow (i); one->getComponentID() == "pictureWindow")
                    apart = one;
            picture = apart == nullptr ? nullptr : on.find ("picture.second", apart);
            return picture != nullptr;
        }));
    bench.goToTyped ("30");
    REQUIRE (on.until (
        [&]
        {
            const auto image = picture->createComponentSnapshot (picture->getLocalBounds(), true, .25f);
            std::set<juce::uint32> colours;
            for (int y = 0; y < image.getHeight(); y += 2)
                for (int x = 0; x < image.getWidth(); x += 2)
                    colours.insert (image.getPixelAt (x, y).getARGB());
            return colours.size() > 20;
        }));
    const auto here = bench.transport.position().filmFrame;
    apart->getPeer()->handleKeyPress (juce::KeyPress::rightKey, 0);
    Opened::spin (50);
    CHECK (bench.transport.position().filmFrame == here + 1);
    apart->getPeer()->handleKeyPress (juce::KeyPress::escapeKey, 0);
    CHECK (on.until ([&] { return ! bench.pictureApart; }));
    Opened::spin (50);

    // A sound gets its row on the band; a click on it opens the line-up.
    auto* band = dynamic_cast<window::BandView*> (on.find ("band"));
    REQUIRE (band != nullptr);
    const int without = band->getHeight();
    const auto sound = on.folder + "/tone.wav";
    output ("ffmpeg -v error -y -f lavfi -i sine=frequency=440:duration=3:beep_factor=4 '" + sound + "'");
    bench.goToTyped ("50");
    bench.lineUp.add (sound);
    REQUIRE (on.until ([&] { return bench.job == nullptr && bench.book().sounds.size() == 1; }));
    REQUIRE (on.until ([&] { return bench.outlines.of (bench.book().sounds[0]) != nullptr; }, 30000));
    const auto* outline = bench.outlines.of (bench.book().sounds[0]);
    REQUIRE (outline->pieces.size() == 1);
    CHECK (outline->pieces[0].length == Approx (3).margin (.01));
    CHECK (band->getHeight() > without);
    const auto box = band->boxOf (bench.book().sounds[0].id);
    // Film frame 50 of 200 at 20, in 250 delivered frames: 2.5 s; three seconds are 75 of them.
    CHECK (box.getX() == Approx (band->xOf (62.5)).margin (4));
    CHECK (box.getWidth() == Approx (band->xOf (75) - band->xOf (0)).margin (4));
    bench.showPage (window::LedgerPage::hits);
    on.press (on.window->getLocalPoint (band, box.getCentre()), on.window->getLocalPoint (band, box.getCentre()));
    CHECK (bench.page == window::LedgerPage::lineUp);

    // A hit that is dragged near a beat catches on it: beats of 60 a minute are 25 delivered frames apart.
    auto book = bench.book();
    auto cues = book.cues.list();
    cues[0].tempo = *music::TempoMap::steady (60);
    book.cues = std::move (cues);
    bench.take ("tempo", std::move (book));
    bench.zoom (3);
    bench.goToTyped ("20");
    Opened::spin (50);
    const auto mark = band->markOf ("anna-5").getCentre(); // film frame 20: delivered frame 25, which is bar 1 beat 2
    REQUIRE (mark.x > 0);
    const float beat = band->xOf (75); // bar 1 beat 4, film frame 60
    on.press (on.window->getLocalPoint (band, mark), on.window->getLocalPoint (band, juce::Point<float> (beat + 4.0f, mark.y)));
    const auto* moved = spotting::hitOf (bench.book(), "anna-5");
    CHECK (bench.times()->timings.find (moved->place)->filmFrame == 60);
    bench.undo();
    bench.undo();
    bench.zoom (0);

    // Zoomed in, the overview shows which part is in view, and a press there goes elsewhere.
    bench.zoom (8);
    bench.goToTyped ("0");
    Opened::spin (50);
    const auto view = band->viewBox();
    CHECK (view.getWidth() == Approx (static_cast<double> (band->getWidth() - 24) / 8).margin (2));
    const juce::Point<float> far (static_cast<float> (band->getWidth()) * .8f, view.getCentreY());
    on.press (on.window->getLocalPoint (band, far), on.window->getLocalPoint (band, far));
    CHECK (std::abs (band->viewBox().getCentreX() - far.x) < 4);
}
