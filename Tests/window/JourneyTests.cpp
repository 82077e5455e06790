#include "OnBench.h"
#include "Screen.h"

#include <algorithm>

using namespace shutterbeat;
using tests::eventually;
using tests::output;

namespace
{
/// Share of pixels in a part of the screen that are not its most frequent colour, from a screenshot.
double busy (const std::string& shot, const std::string& area)
{
    const auto text = output ("convert '" + shot + "' -crop " + area + " +repage -format %k info:");
    return text.empty() ? 0 : std::stod (text);
}
} // namespace

TEST_CASE ("a journey on the real window: play, tap, name, move, undo, save, reopen")
{
    const auto folder = tests::freshFolder ("journey");
    const auto path = tests::makeBook (folder);
    tests::Screen screen (1280, 800);
    ::setenv ("HOME", folder.c_str(), 1);
    ::setenv ("XDG_CONFIG_HOME", (folder + "/config").c_str(), 1);
    REQUIRE_FALSE (output ("which xdotool import convert").empty());
    const std::string program = std::string (SHUTTERBEAT_BINARY_DIR) + "/shutterbeat-window";
    const auto key = [] (const std::string& keys)
    {
        output ("xdotool key --delay 40 " + keys);
        tests::waitFor (150);
    };
    const auto opened = [] { return ! output ("xdotool search --onlyvisible --name Shutterbeat 2>/dev/null").empty(); };
    const auto saved = [&] { return store::loadBook (path)->book; };
    {
        tests::Program window ({ program, path, "--size", "1280x800" });
        INFO ("display " << std::getenv ("DISPLAY") << ": " << output ("xdotool search --name '.*' 2>&1 | head -5"));
        REQUIRE (eventually (opened, 30000));
        output ("xdotool mousemove 640 300");
        output ("xdotool windowfocus $(xdotool search --onlyvisible --name Shutterbeat | head -1)");
        tests::waitFor (1500);
        const auto shot = folder + "/open.png";
        output ("import -window root '" + shot + "'");
        CHECK (busy (shot, "150x500+10+50") > 40);
        CHECK (busy (shot, "500x400+250+80") > 40);
        CHECK (busy (shot, "1280x180+0+590") > 40);
        CHECK (busy (shot, "380x500+880+60") > 40);

        key ("space");
        tests::waitFor (1200);
        key ("h");
        tests::waitFor (400);
        key ("space");
        key ("Return");
        output ("xdotool type --delay 30 'the lamp goes out'");
        key ("Return");
        key ("ctrl+s");
        REQUIRE (eventually ([&] { return saved().hits.size() == 6; }));
        const auto hits = saved().hits.list();
        const auto tapped =
            std::find_if (hits.begin(), hits.end(), [] (const auto& hit) { return hit.label == "the lamp goes out"; });
        REQUIRE (tapped != hits.end());
        REQUIRE (std::holds_alternative<film::PicturePlace> (tapped->place));
        const auto at = std::get<film::PicturePlace> (tapped->place).filmFrame;
        // Played for more than a second at 20 film frames a second, and less than the whole film.
        CHECK (at > 12);
        CHECK (at < 150);

        // Drag the fourth hit (film frame 125 of 200: x = 12 + 1256 * 125 / 200) a good way to the left.
        output ("xdotool mousemove 797 683 mousedown 1");
        for (int x = 790; x >= 700; x -= 6)
            output ("xdotool mousemove " + std::to_string (x) + " 683");
        output ("xdotool mouseup 1");
        tests::waitFor (300);
        key ("ctrl+s");
        const auto frameOf = [&] (const std::string& id)
        { return std::get<film::PicturePlace> (spotting::hitOf (saved(), id)->place).filmFrame; };
        REQUIRE (eventually ([&] { return frameOf ("anna-8") != 125; }));
        CHECK (std::abs (frameOf ("anna-8") - 110) <= 2); // (701 - 12) / 1256 * 200 = 109.7
        key ("ctrl+z");
        key ("ctrl+s");
        CHECK (eventually ([&] { return frameOf ("anna-8") == 125; }));
        CHECK (saved().hits.size() == 6);
        CHECK (window.running());
        key ("ctrl+q");
        CHECK (eventually ([&] { return ! window.running(); }));
    }
    // Reopened, it shows what was saved.
    tests::Program again ({ program, path, "--size", "1280x800" });
    REQUIRE (eventually (opened, 30000));
    tests::waitFor (1200);
    output ("import -window root '" + folder + "/again.png'");
    CHECK (busy (folder + "/again.png", "380x500+880+60") > 40);
    CHECK (again.running());
    std::filesystem::remove_all (folder);
}

TEST_CASE ("from a film file to a saved book and a packed parcel, by keys alone")
{
    const auto folder = tests::freshFolder ("film-to-parcel");
    const auto film = tests::makeFilm (folder);
    const auto path = folder + "/film.shutterbeat";
    tests::Screen screen (1280, 800);
    ::setenv ("HOME", folder.c_str(), 1);
    ::setenv ("XDG_CONFIG_HOME", (folder + "/config").c_str(), 1);
    const std::string program = std::string (SHUTTERBEAT_BINARY_DIR) + "/shutterbeat-window";
    const auto key = [] (const std::string& keys)
    {
        output ("xdotool key --delay 40 " + keys);
        tests::waitFor (200);
    };
    ::setenv ("USER", "ida", 1);
    tests::Program window ({ program, "--size", "1280x800" });
    REQUIRE (eventually ([] { return ! output ("xdotool search --onlyvisible --name Shutterbeat 2>/dev/null").empty(); }, 30000));
    output ("xdotool mousemove 640 300");
    output ("xdotool windowfocus $(xdotool search --onlyvisible --name Shutterbeat | head -1)");
    tests::waitFor (1000);
    key ("ctrl+n");
    output ("xdotool type --delay 15 '" + film + "'");
    key ("Return");
    // A file without repeats does not say its running speed: the first of the usual ones is taken. Until the film was looked
    // through the key does nothing.
    const auto saved = [&] { return store::loadBook (path); };
    REQUIRE (eventually (
        [&]
        {
            key ("Return");
            key ("ctrl+s");
            return saved().ok();
        },
        60000));
    const auto begun = saved()->book;
    CHECK (begun.editions.list().front().shots.size() == 4);
    key ("Escape");
    key ("ctrl+p"); // hits on the cuts
    key ("c");      // a cue from the first picture on
    key ("Right");
    key ("h"); // a hit by hand
    key ("Return");
    output ("xdotool type --delay 20 'the flag drops'");
    key ("Return");
    key ("ctrl+s");
    REQUIRE (eventually (
        [&]
        {
            const auto book = saved();
            return book.ok() && ! book->book.cues.empty() && book->book.hits.size() >= 3;
        }));
    const auto hits = saved()->book.hits.list();
    CHECK (std::any_of (hits.begin(), hits.end(), [] (const auto& hit) { return hit.label == "the flag drops"; }));
    key ("7");
    key ("ctrl+shift+m");
    const auto packed = [&] { return output ("ls '" + folder + "' | grep -c 'zip$'") == "1"; };
    REQUIRE (eventually (packed, 120000));
    tests::waitFor (500);
    key ("ctrl+s");
    const auto listed = [&]
    { return output ("'" + std::string (SHUTTERBEAT_BINARY_DIR) + "/shutterbeat' parcel '" + path + "' --json"); };
    CHECK (eventually ([&] { return listed().find ("\"number\": 1") != std::string::npos; }));
    const auto names = listed();
    for (const char* part : { ".mp4", ".html", ".mid", ".csv", ".pdf" })
    {
        INFO (names);
        CHECK (names.find (part) != std::string::npos);
    }
    CHECK (window.running());
    key ("ctrl+q");
    CHECK (eventually ([&] { return ! window.running(); }));
    std::filesystem::remove_all (folder);
}
