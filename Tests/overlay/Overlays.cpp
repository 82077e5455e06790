#include "Catch.h"
#include "overlay/Leader.h"
#include "overlay/MarkPaint.h"
#include "overlay/Overlay.h"

#include <cmath>

using namespace shutterbeat;
using namespace shutterbeat::overlay;

namespace
{
Readout fullReadout()
{
    Readout read;
    read.timecode = "01:00:55:14";
    read.frame = "1112";
    read.feet = "69+08";
    read.bar = "12|3";
    read.cueNumber = "1M2";
    read.cueTitle = "The ladder and the long way down";
    read.receiver = "Copy for the pianist";
    read.next = NextHit{ "3.2", "77", "The door opens", false, {}, "" };
    return read;
}

bool overlaps (const Box& a, const Box& b)
{
    return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom();
}

/// Pixels of a patch that cover something at least half.
std::int64_t inked (const Patch& patch)
{
    std::int64_t count = 0;
    for (const auto pixel : *patch.pixels)
        count += pixel >> 24 >= 128 ? 1 : 0;
    return count;
}

void checkOnScreen (const std::vector<Patch>& patches, int width, int height)
{
    for (const auto& patch : patches)
    {
        CHECK (patch.box.x % 2 == 0);
        CHECK (patch.box.y % 2 == 0);
        CHECK (patch.box.x >= 0);
        CHECK (patch.box.y >= 0);
        CHECK (patch.box.right() <= width);
        CHECK (patch.box.bottom() <= height);
        CHECK (patch.pixels->size() == static_cast<std::size_t> (patch.box.width) * static_cast<std::size_t> (patch.box.height));
        CHECK (inked (patch) > 0);
    }
}
} // namespace

TEST_CASE ("Where the picture leaves side bars everything stands in them, and nothing on another part")
{
    struct Screen
    {
        int width, height;
        Box picture;
    };
    for (const auto& screen : { Screen{ 1280, 720, { 160, 0, 960, 720 } }, Screen{ 1920, 1080, { 240, 0, 1440, 1080 } },
                                Screen{ 640, 360, { 80, 0, 480, 360 } } })
    {
        Overlay overlay (screen.width, screen.height, screen.picture, {});
        CHECK (overlay.besidePicture());
        const auto patches = overlay.draw (fullReadout());
        CHECK (patches.size() == 8);
        checkOnScreen (patches, screen.width, screen.height);
        for (std::size_t i = 0; i < patches.size(); ++i)
        {
            CHECK_FALSE (overlaps (patches[i].box, screen.picture));
            for (std::size_t k = 0; k < i; ++k)
                CHECK_FALSE (overlaps (patches[i].box, patches[k].box));
        }
    }
}

TEST_CASE ("Without side bars it stands at the edges of the picture, the middle left free")
{
    Overlay overlay (1280, 720, { 0, 0, 1280, 720 }, {});
    CHECK_FALSE (overlay.besidePicture());
    const auto patches = overlay.draw (fullReadout());
    checkOnScreen (patches, 1280, 720);
    for (const auto& patch : patches)
        CHECK_FALSE (overlaps (patch.box, { 0, 144, 1280, 432 }));
    for (std::size_t i = 0; i < patches.size(); ++i)
        for (std::size_t k = 0; k < i; ++k)
            CHECK_FALSE (overlaps (patches[i].box, patches[k].box));
    // Narrow bars are none: Academy picture in a movie of 1.43.
    CHECK_FALSE (Overlay (1030, 720, { 24, 0, 982, 720 }, {}).besidePicture());
}

TEST_CASE ("Each part can be switched off, and empty parts take no room")
{
    const Parts none{ false, false, false, false, false, false, false };
    CHECK (Overlay (1280, 720, { 160, 0, 960, 720 }, none).draw (fullReadout()).empty());
    bool Parts::*const switches[] = { &Parts::timecode, &Parts::frame,     &Parts::feet,    &Parts::bar,
                                      &Parts::cue,      &Parts::countdown, &Parts::receiver };
    for (const auto part : switches)
        for (const Box& picture : { Box{ 160, 0, 960, 720 }, Box{ 0, 0, 1280, 720 } })
        {
            Parts only = none;
            only.*part = true;
            const auto patches = Overlay (1280, 720, picture, only).draw (fullReadout());
            CHECK (patches.size() == (part == &Parts::countdown ? 2 : 1));
        }
    CHECK (Overlay (1280, 720, { 160, 0, 960, 720 }, {}).draw ({}).empty());
}

TEST_CASE ("What stays the same is not drawn again, and what changes is")
{
    Overlay overlay (1280, 720, { 160, 0, 960, 720 }, {});
    auto read = fullReadout();
    const auto before = overlay.draw (read);
    read.timecode = "01:00:55:15";
    const auto after = overlay.draw (read);
    REQUIRE (before.size() == after.size());
    int changed = 0;
    for (std::size_t i = 0; i < before.size(); ++i)
    {
        CHECK (before[i].box == after[i].box);
        changed += before[i].pixels != after[i].pixels ? 1 : 0;
    }
    CHECK (changed == 1);
    // The same text is the same picture in another overlay.
    Overlay other (1280, 720, { 160, 0, 960, 720 }, {});
    const auto again = other.draw (read);
    for (std::size_t i = 0; i < after.size(); ++i)
        CHECK (*again[i].pixels == *after[i].pixels);
}

TEST_CASE ("Long words and strange letters stay inside their bars")
{
    Overlay overlay (640, 360, { 80, 0, 480, 360 }, {});
    auto read = fullReadout();
    read.timecode = "01:00:55:14";
    read.frame = "123456789012";
    read.cueNumber = "12M34-version-b-for-small-band";
    read.cueTitle = std::string (400, 'W');
    read.next->label = "“Stå!” – Ærø, Łódź, Čapek \xff\xfe " + std::string (300, 'x');
    read.receiver = std::string (300, 'r');
    for (const auto& patch : overlay.draw (read))
    {
        CHECK_FALSE (overlaps (patch.box, { 80, 0, 480, 360 }));
        CHECK (patch.box.right() <= 640);
    }
}

TEST_CASE ("A punch covers at most a twelfth of the picture, whatever its shape")
{
    for (const Box& picture : { Box{ 0, 0, 640, 480 }, Box{ 160, 0, 960, 720 }, Box{ 0, 0, 1920, 1080 }, Box{ 10, 20, 200, 900 },
                                Box{ 0, 0, 100, 76 }, Box{ 0, 0, 1600, 200 } })
    {
        const auto disc = MarkPaint (picture).disc();
        std::int64_t covered = 0;
        for (const auto pixel : *disc.pixels)
            covered += pixel >> 24 != 0 ? 1 : 0;
        CHECK (covered * 12 <= std::int64_t (picture.width) * picture.height);
        CHECK (covered > 20);
        // In the middle, within a pixel.
        CHECK (std::abs (2 * disc.box.x + disc.box.width - 2 * picture.x - picture.width) <= 3);
        CHECK (std::abs (2 * disc.box.y + disc.box.height - 2 * picture.y - picture.height) <= 3);
    }
}

TEST_CASE ("A streamer crosses the picture from its left edge to its right edge")
{
    const Box picture{ 160, 0, 960, 720 };
    MarkPaint paint (picture);
    int last = -1;
    for (int i = 0; i <= 72; ++i)
    {
        const auto patches = paint.draw ({ { ShownMark::Kind::streamer, 0, time::Rational (i) / time::Rational (72), 0 } });
        REQUIRE (patches.size() == 1);
        const auto& box = patches[0].box;
        CHECK (box.x >= picture.x);
        CHECK (box.right() <= picture.right());
        CHECK (box.y == picture.y);
        CHECK (box.height == picture.height);
        CHECK (box.x > last);
        last = box.x;
        if (i == 0)
            CHECK (box.x == picture.x);
        if (i == 72)
            CHECK (box.right() == picture.right());
    }
    // What weighs less is narrower.
    const auto inkOf = [&] (int weight) {
        return inked (paint.draw ({ { ShownMark::Kind::streamer, 0, time::Rational (1), weight } })[0]);
    };
    CHECK (inkOf (0) > inkOf (1));
    CHECK (inkOf (1) > inkOf (2));
}

TEST_CASE ("Countdown and made card stay inside the picture")
{
    const Letters letters;
    const Box picture{ 160, 0, 960, 720 };
    for (const int second : { 3, 10, 60 })
        for (const auto& patch : drawLeader (letters, picture, { second, 12, 24, "The Ladder", "Edition A, 24" }))
        {
            CHECK (patch.box.x >= picture.x);
            CHECK (patch.box.right() <= picture.right());
            CHECK (patch.box.bottom() <= picture.bottom());
        }
    const auto card = drawCard (letters, picture, "“Not the ladder!”");
    CHECK (card.box == picture);
    // A wording of any length is set within the frame: nothing in the outer twentieth.
    const auto longCard = drawCard (letters, picture, std::string (1200, 'w') + " " + std::string (1200, 'n'));
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x < picture.width; ++x)
            if (x < 40 || y < 40 || x >= picture.width - 40 || y >= picture.height - 40)
                if (((*longCard.pixels)[static_cast<std::size_t> (y) * 960 + static_cast<std::size_t> (x)] >> 24) != 0)
                    FAIL ("ink at " << x << ", " << y);
}
