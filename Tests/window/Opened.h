#pragma once

#include "OnBench.h"
#include "Screen.h"

#include "window/MainWindow.h"

namespace shutterbeat::tests
{
/// A window on a screen of its own, in this very program: events go through JUCE as real ones do.
class Opened
{
public:
    explicit Opened (const std::string& name, window::StartWish wish = {}, int width = 1280, int height = 800)
        : screen (width, height)
        , folder (freshFolder (name))
    {
        ::setenv ("HOME", folder.c_str(), 1);
        ::setenv ("XDG_CONFIG_HOME", (folder + "/config").c_str(), 1);
        // Without a window manager X answers some requests with an error, which ends a program that is no JUCE application.
        juce::JUCEApplicationBase::createInstance = []() -> juce::JUCEApplicationBase* { return nullptr; };
        juce = std::make_unique<juce::ScopedJuceInitialiser_GUI>();
        wish.book = makeBook (folder);
        if (wish.width == 0)
            wish.width = width, wish.height = height;
        window = std::make_unique<window::MainWindow> (wish);
        until ([this] { return bench().times() != nullptr; });
        spin (400);
    }
    ~Opened()
    {
        window.reset();
        juce.reset();
        std::filesystem::remove_all (folder);
    }

    static void spin (int milliseconds) { juce::MessageManager::getInstance()->runDispatchLoopUntil (milliseconds); }
    /// Runs the window until it holds, at most this long.
    template <class Condition>
    bool until (Condition holds, int milliseconds = 10000)
    {
        for (int gone = 0; gone < milliseconds && ! holds(); gone += 10)
            spin (10);
        return holds();
    }
    void key (const juce::KeyPress& press, juce::juce_wchar typed = 0)
    {
        window->getPeer()->handleKeyPress (press.getKeyCode(), typed);
        spin (30);
    }
    void space() { key (juce::KeyPress (juce::KeyPress::spaceKey), ' '); }
    juce::Component* find (const juce::String& id, juce::Component* in = nullptr)
    {
        in = in == nullptr ? window.get() : in;
        if (in->getComponentID() == id && in->isShowing())
            return in;
        for (auto* child : in->getChildren())
            if (auto* found = find (id, child))
                return found;
        return nullptr;
    }
    /// Presses the left button, draws it in small steps and lets go, with keys held: real events, through the X server.
    void press (juce::Point<float> at, juce::Point<float> to, int modifiers = 0)
    {
        using juce::ModifierKeys;
        const auto move = [&] (juce::Point<float> where)
        {
            const auto on = juce::Desktop::getInstance().getDisplays().logicalToPhysical (window->localPointToGlobal (where));
            screen.pointerTo (juce::roundToInt (on.x), juce::roundToInt (on.y));
            spin (15);
        };
        const auto hold = [&] (bool down)
        {
            for (const auto& [flag, name] : { std::pair (int (ModifierKeys::shiftModifier), "Shift_L"),
                                              std::pair (int (ModifierKeys::ctrlModifier), "Control_L"),
                                              std::pair (int (ModifierKeys::altModifier), "Alt_L") })
                if ((modifiers & flag) != 0)
                    screen.key (name, down);
            spin (15);
        };
        const auto source = juce::Desktop::getInstance().getMainMouseSource();
        hold (true);
        move (at);
        screen.button (true);
        REQUIRE (until ([&] { return source.isDragging(); }));
        for (int i = 1; i <= 20 && to != at; ++i)
            move (at + (to - at) * (static_cast<float> (i) / 20.0f));
        screen.button (false);
        REQUIRE (until ([&] { return ! source.isDragging(); }));
        hold (false);
        spin (30);
    }
    void click (juce::Component& what)
    {
        const auto middle = window->getLocalPoint (&what, what.getLocalBounds().getCentre()).toFloat();
        press (middle, middle);
    }
    window::Bench& bench() { return window->bench(); }

    Screen screen;
    std::string folder;
    std::unique_ptr<juce::ScopedJuceInitialiser_GUI> juce;
    std::unique_ptr<window::MainWindow> window;
};
} // namespace shutterbeat::tests
