#include "OnBench.h"

#include "window/Actions.h"
#include "window/Keys.h"
#include "window/MainWindow.h"
#include "window/Marks.h"
#include "window/Theme.h"

#include <set>

using namespace shutterbeat;

TEST_CASE ("every action has an id, a menu and a key of its own that leads to it")
{
    std::set<std::string> ids, keys;
    const std::set<std::string> menus (window::menuNames().begin(), window::menuNames().end());
    for (const auto& action : window::actions())
    {
        INFO (action.id);
        CHECK (ids.insert (action.id).second);
        CHECK (menus.count (action.menu) == 1);
        REQUIRE_FALSE (action.key.empty());
        CHECK (keys.insert (action.key).second);
        auto press = window::keyPressOf (action.key);
        if (action.key.size() == 1)
            press = juce::KeyPress (press.getKeyCode(), 0, static_cast<juce::juce_wchar> (action.key.front()));
        const auto* found = window::actionFor (press);
        REQUIRE (found != nullptr);
        CHECK (found->id == action.id);
    }
}

TEST_CASE ("signs are found on keyboards that reach them with other modifiers")
{
    const juce::KeyPress german ('8', juce::ModifierKeys::altModifier, '[');
    REQUIRE (window::actionFor (german) != nullptr);
    CHECK (window::actionFor (german)->id == "play.previousHit");
    const juce::KeyPress plus ('=', juce::ModifierKeys::shiftModifier, '+');
    REQUIRE (window::actionFor (plus) != nullptr);
    CHECK (window::actionFor (plus)->id == "view.zoomIn");
    CHECK (window::actionFor (juce::KeyPress ('z', 0, 'z')) == nullptr);
}

TEST_CASE ("text and marks stand out from their ground in both lights (B53)")
{
    for (const auto& light : { window::dimRoom(), window::dayLight() })
        for (const auto& ground : { light.ground, light.panel, light.raised })
        {
            CHECK (window::contrast (light.text, ground) >= 4.5);
            CHECK (window::contrast (light.quiet, ground) >= 4.5);
            for (const auto& dye : { light.lamp, light.night, light.woods, light.rose })
                CHECK (window::contrast (dye, ground) >= 4.5);
        }
    for (const auto& light : { window::dimRoom(), window::dayLight() })
        CHECK (window::contrast (light.ink, light.paper) >= 4.5);
}

TEST_CASE ("kinds differ by shape and weights by fill, without any colour (B53)")
{
    using spotting::HitKind;
    using spotting::Weight;
    constexpr int side = 24;
    const auto drawn = [] (HitKind kind, Weight weight, bool open)
    {
        juce::Image image (juce::Image::SingleChannel, side, side + 8, true);
        juce::Graphics g (image);
        window::drawMark (g, { 2, 8, side - 4, side - 4 }, kind, weight, open, juce::Colours::white, juce::Colours::white);
        std::vector<int> pixels;
        for (int y = 0; y < image.getHeight(); ++y)
            for (int x = 0; x < side; ++x)
                pixels.push_back (image.getPixelAt (x, y).getAlpha());
        return pixels;
    };
    const auto apart = [] (const std::vector<int>& a, const std::vector<int>& b)
    {
        int different = 0;
        for (std::size_t i = 0; i < a.size(); ++i)
            different += std::abs (a[i] - b[i]) > 96 ? 1 : 0;
        return different;
    };
    for (int a = 0; a < 9; ++a)
        for (int b = 0; b < a; ++b)
        {
            INFO ("kinds " << a << " and " << b);
            CHECK (
                apart (drawn (static_cast<HitKind> (a), Weight::must, false), drawn (static_cast<HitKind> (b), Weight::must, false))
                > 30);
        }
    for (int kind = 0; kind < 9; ++kind)
    {
        INFO ("kind " << kind);
        const auto is = static_cast<HitKind> (kind);
        CHECK (apart (drawn (is, Weight::must, false), drawn (is, Weight::may, false)) > 12);
        CHECK (apart (drawn (is, Weight::must, true), drawn (is, Weight::must, false)) > 5);
    }
}

TEST_CASE ("the command line is read, or refused in a sentence")
{
    const auto wish =
        window::readStartWish ({ "a.shutterbeat", "--size", "1280x800", "--theme", "day", "--scale", "150", "--at", "film:3" });
    REQUIRE (wish.ok());
    CHECK (wish->book == "a.shutterbeat");
    CHECK (wish->width == 1280);
    CHECK (wish->height == 800);
    CHECK (wish->day == true);
    CHECK (wish->scale == 150);
    CHECK (wish->at == "film:3");
    for (const auto& bad : std::vector<std::vector<std::string>>{ { "--size" },
                                                                  { "--size", "10x10" },
                                                                  { "--size", "1280" },
                                                                  { "--theme", "blue" },
                                                                  { "--scale", "110" },
                                                                  { "a", "b" },
                                                                  { "--nothing", "x" } })
        CHECK_FALSE (window::readStartWish (bad).ok());
}
