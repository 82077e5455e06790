#include "Opened.h"

#include "window/PictureView.h"

#include <chrono>
#include <thread>

using namespace shutterbeat;
using tests::Opened;
using tests::output;

namespace
{
std::int64_t steadyNow()
{
    return std::chrono::duration_cast<std::chrono::nanoseconds> (std::chrono::steady_clock::now().time_since_epoch()).count();
}

double msSince (std::int64_t then)
{
    return static_cast<double> (steadyNow() - then) / 1e6;
}

void takeKeyboard()
{
    output ("xdotool mousemove 640 300");
    Opened::spin (50);
    output ("xdotool windowfocus $(xdotool search --onlyvisible --name Shutterbeat | head -1)");
    Opened::spin (200);
}

std::int64_t frameOf (const window::Bench& bench, const std::string& hit)
{
    for (const auto& row : bench.times()->hits)
        if (row.hit.id == hit && row.at)
            return row.at->filmFrame;
    return -1;
}
} // namespace

TEST_CASE ("a key that goes down while the window is held up lands on the picture seen then")
{
    Opened on ("keydown");
    takeKeyboard();
    REQUIRE (juce::Component::getCurrentlyFocusedComponent() != nullptr);
    on.bench().transport.play();
    Opened::spin (700);
    // The window's thread stands still: the picture on screen stays, and the key goes down in the middle of it.
    const auto before = on.bench().book().hits.size();
    const auto seen = on.bench().transport.position().filmFrame;
    std::thread hand (
        []
        {
            tests::waitFor (150);
            output ("xdotool key h");
        });
    const auto since = steadyNow();
    tests::waitFor (600);
    hand.join();
    const double held = msSince (since);
    REQUIRE (on.until ([&] { return on.bench().book().hits.size() == before + 1; }, 3000));
    const auto hit = on.bench().selected().front();
    const auto now = on.bench().transport.position().filmFrame;
    WARN ("held up for " << held << " ms: on screen film frame " << seen << ", hit on " << frameOf (on.bench(), hit)
                         << ", handled when it stood on " << now);
    CHECK (std::abs (frameOf (on.bench(), hit) - seen) <= 1);
    CHECK (now - seen >= 8);
    on.bench().transport.pause();
}

TEST_CASE ("a held tap key is one hit, and a held crawl key runs until it is let go")
{
    Opened on ("held");
    takeKeyboard();
    const auto before = on.bench().book().hits.size();
    output ("xdotool keydown h");
    Opened::spin (900); // long enough for the server to repeat the key many times
    output ("xdotool keyup h");
    Opened::spin (100);
    CHECK (on.bench().book().hits.size() == before + 1);
    output ("xdotool key h");
    Opened::spin (150);
    CHECK (on.bench().book().hits.size() == before + 2);

    on.bench().goToTyped ("100");
    const auto pressed = steadyNow();
    output ("xdotool keydown n");
    REQUIRE (on.until ([&] { return on.bench().crawling() == 1; }, 2000));
    CHECK (on.bench().transport.position().filmFrame >= 101);
    const auto crawls = steadyNow();
    Opened::spin (1500);
    CHECK (on.bench().transport.playing());
    const double least = msSince (crawls) / 1000;
    output ("xdotool keyup n");
    REQUIRE (on.until ([&] { return ! on.bench().transport.playing(); }, 2000));
    const double most = msSince (pressed) / 1000;
    const auto stands = on.bench().transport.position().filmFrame;
    // One at once, then five a second while it is down; half a second goes before it runs.
    CHECK (static_cast<double> (stands) >= 101 + 5 * (least - 0.6));
    CHECK (static_cast<double> (stands) <= 102 + 5 * most);
    Opened::spin (300);
    CHECK (on.bench().transport.position().filmFrame == stands);
    output ("xdotool key b");
    REQUIRE (on.until ([&] { return on.bench().transport.position().filmFrame != stands; }, 2000));
    REQUIRE (on.until ([&] { return on.bench().crawling() == 0 && ! on.bench().transport.playing(); }, 2000));
    CHECK (on.bench().transport.position().filmFrame == stands - 1);
}

TEST_CASE ("a pedal that stays down at a showing has tapped once")
{
    Opened on ("pedal");
    takeKeyboard();
    auto& live = on.bench().live;
    live.open();
    Opened::spin (100);
    live.startOrHold();
    const auto running = live.said;
    output ("xdotool keydown space");
    REQUIRE (on.until ([&] { return live.said != running; }, 2000));
    live.said = "down";
    Opened::spin (1200); // long enough for the server to repeat the key many times
    CHECK (live.said == "down");
    output ("xdotool keyup space");
    Opened::spin (100);
    CHECK (live.said == "down");
    output ("xdotool key space");
    CHECK (on.until ([&] { return live.said != "down"; }, 2000));
}

TEST_CASE ("the picture keeps its display shape at any size of window, the whole screen included (B19)")
{
    // 720 x 576 stored with pixels of 64:45 is to be seen as 1024 x 576, 16:9.
    Opened on ("shape", {}, 1400, 900);
    const auto wide = on.folder + "/wide.mp4";
    REQUIRE (
        std::system (("ffmpeg -v error -y -f lavfi -i color=0x807040:size=720x576:rate=25:duration=8 -vf setsar=64/45 -c:v libx264 "
                      "-pix_fmt yuv420p -g 25 "
                      + wide)
                         .c_str())
        == 0);
    auto book = store::loadBook (on.bench().path());
    REQUIRE (book.ok());
    auto prints = book->book.prints.list();
    prints[0].reels[0].path = "wide.mp4";
    prints[0].reels[0].identity = *media::fileIdentity (wide);
    book->book.prints = std::move (prints);
    const auto path = on.folder + "/wide.shutterbeat";
    REQUIRE (store::saveBook (path, book->book, "").ok());
    on.bench().openPath (path);
    REQUIRE (on.until ([&] { return on.bench().path() == path; }));
    // Where the picture ends on the screen is looked for in what is really drawn: the test picture is of one colour.
    const auto shapeOf = [&]
    {
        auto* picture = on.find ("picture");
        REQUIRE (picture != nullptr);
        const auto image = picture->createComponentSnapshot (picture->getLocalBounds(), true, 1.0f);
        const auto ground = image.getPixelAt (0, 0);
        const auto isGround = [&] (int x, int y) { return image.getPixelAt (x, y) == ground; };
        // The overlay may stand on the ground, so the greater part of a row or column decides.
        const auto isBar = [&] (bool column, int at)
        {
            int bare = 0;
            for (int i = 1; i < 40; ++i)
                bare += isGround (column ? at : image.getWidth() * i / 40, column ? image.getHeight() * i / 40 : at) ? 1 : 0;
            return bare > 20;
        };
        int left = 0, top = 0;
        while (left < image.getWidth() / 2 && isBar (true, left))
            ++left;
        while (top < image.getHeight() / 2 && isBar (false, top))
            ++top;
        return static_cast<double> (image.getWidth() - 2 * left) / (image.getHeight() - 2 * top);
    };
    for (const auto& [width, height] : { std::pair (1400, 900), std::pair (1000, 880), std::pair (1390, 640) })
    {
        on.window->setSize (width, height);
        Opened::spin (700);
        INFO (width << " x " << height);
        CHECK (shapeOf() == Approx (16.0 / 9.0).epsilon (0.012));
    }
    on.bench().setWholePicture (true);
    Opened::spin (900);
    CHECK (on.find ("ledger") == nullptr);
    CHECK (on.find ("band") == nullptr);
    auto* picture = on.find ("picture");
    REQUIRE (picture != nullptr);
    CHECK (picture->getWidth() == 1400);
    CHECK (picture->getHeight() == 900);
    CHECK (shapeOf() == Approx (16.0 / 9.0).epsilon (0.012));
    on.key (juce::KeyPress (juce::KeyPress::escapeKey));
    Opened::spin (200);
    CHECK_FALSE (on.bench().wholePicture);
    CHECK (on.find ("ledger") != nullptr);
}

TEST_CASE ("a hit dragged near a cut catches on it, and Alt lets it go: Shift marks a loop on the band")
{
    Opened on ("snap");
    auto* band = dynamic_cast<window::BandView*> (on.find ("band"));
    REQUIRE (band != nullptr);
    const auto inWindow = [&] (juce::Point<float> p) { return on.window->getLocalPoint (band, p); };
    const auto mark = band->markOf ("anna-7").getCentre(); // film frame 90
    REQUIRE (mark.x > 0);
    // The cut to shot 3 is at film frame 100, delivered frame 125; four pixels beside it are near.
    const float cut = band->xOf (125);
    on.press (inWindow (mark), inWindow ({ cut + 4.0f, mark.y }));
    CHECK (frameOf (on.bench(), "anna-7") == 100);
    on.bench().undo();
    REQUIRE (frameOf (on.bench(), "anna-7") == 90);
    const auto beside = band->positionAt (cut - 7.0f).filmFrame;
    REQUIRE (beside < 100);
    on.press (inWindow (mark), inWindow ({ cut - 7.0f, mark.y }), juce::ModifierKeys::altModifier);
    CHECK (frameOf (on.bench(), "anna-7") == beside);

    CHECK (band->loopBox().isEmpty());
    const float left = band->xOf (40.5), right = band->xOf (80.5);
    on.press (inWindow ({ left, 40.0f }), inWindow ({ right, 40.0f }), juce::ModifierKeys::shiftModifier);
    REQUIRE (on.bench().transport.loop().has_value());
    CHECK (on.bench().transport.loop()->in.filmFrame == 32);
    CHECK (on.bench().transport.loop()->out.filmFrame == 65);
    CHECK (band->loopBox().getX() == Approx (band->xOf (40)).margin (0.6));
    CHECK_FALSE (on.bench().transport.playing());
}

TEST_CASE ("taps are calibrated in the window by its keys")
{
    Opened on ("pulse");
    takeKeyboard();
    output ("xdotool key t");
    REQUIRE (on.until ([&] { return on.find ("panel.pulse") != nullptr; }, 3000));
    const auto start = on.bench().calibrationStart;
    for (int beat = 0; beat < 14; ++beat)
    {
        while (steadyNow() < start + beat * window::Bench::calibrationInterval)
            Opened::spin (2);
        output ("xdotool key h");
        Opened::spin (30);
    }
    REQUIRE (on.bench().calibration.has_value());
    CHECK (on.bench().calibration->count() >= 10);
    const auto late = *on.bench().calibration->median();
    WARN ("a program that taps on the beat is measured " << late / 1'000'000 << " ms late, spread "
                                                         << *on.bench().calibration->spread() / 1'000'000 << " ms");
    CHECK (late > 0);
    CHECK (late < 150'000'000);
    on.click (*on.find ("panel.keep"));
    Opened::spin (200);
    CHECK (on.bench().tapLate == late);
    CHECK (on.bench().panel == window::Panel::ledger);
    CHECK (window::loadSettings().tapLateMs == late / 1'000'000);
    CHECK (on.bench().book().hits.size() == 5); // none was placed by the taps
}
