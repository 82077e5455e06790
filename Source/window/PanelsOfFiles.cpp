// The panels that ask about things outside the book: sound devices, lists that somebody sent.
#include "time/Text.h"
#include "window/Actions.h"
#include "window/CodeDesk.h"
#include "window/PanelView.h"

namespace shutterbeat::window
{
void PanelView::buildSound()
{
    say ("panel.title", "Sound", Face::strong, size::large);
    const auto& wish = bench.soundWish();
    say ("panel.deviceHint", "Device", Face::words, size::small, true, 2);
    std::vector<juce::String> names{ "the system's" };
    int chosen = 0;
    for (const auto& device : bench.soundDevices)
    {
        names.push_back (text (device));
        if (device == wish.device)
            chosen = static_cast<int> (names.size()) - 1;
    }
    choiceRow ("panel.device", names, chosen,
               [this] (int which)
               {
                   auto changed = bench.soundWish();
                   changed.device = which == 0 ? "" : bench.soundDevices[static_cast<std::size_t> (which - 1)];
                   bench.setSound (changed);
               });
    items.back().gap = 14;
    const auto number = [this] (const char* id, const char* title, const char* words, int value, int SoundWish::*part)
    {
        say (juce::String (id) + ".hint", words, Face::words, size::small, true, 2);
        auto& typed = field (id, title, juce::String (value));
        const auto take = [this, &typed, part, title]
        {
            const auto read = time::parseWhole (typed.getText().trim().toStdString());
            if (! read || std::abs (*read) > 1000)
                return bench.complain (std::string (title) + ": a whole number, such as -6.");
            auto changed = bench.soundWish();
            changed.*part = static_cast<int> (*read);
            bench.setSound (changed);
            typed.setText (juce::String (bench.soundWish().*part), false);
        };
        typed.entered = take;
        typed.onFocusLost = take;
        items.back().gap = 14;
    };
    number ("panel.gain", "Gain in dB", "Gain in decibels, -60 to 12", wish.gainDb, &SoundWish::gainDb);
    number ("panel.offset", "Offset in ms", "Offset in milliseconds: above zero all is heard later", wish.offsetMs,
            &SoundWish::offsetMs);
    number ("panel.codeOffset", "Code offset in ms", "Offset of the timecode that is sent, in milliseconds", wish.codeOffsetMs,
            &SoundWish::codeOffsetMs);
    const auto toggle = [this] (const char* id, const char* words, const char* action, bool SoundWish::*part)
    {
        auto& one = button (id, words, WordButton::Style::quiet,
                            [this, id = juce::String (id), action, part]
                            {
                                perform (bench, actionNamed (action));
                                for (auto& item : items)
                                    if (auto* word = dynamic_cast<WordButton*> (item.component.get());
                                        word != nullptr && word->getComponentID() == id)
                                        word->setToggleState (bench.soundWish().*part, juce::dontSendNotification);
                            });
        one.setToggleState (bench.soundWish().*part, juce::dontSendNotification);
        items.back().gap = 2;
    };
    toggle ("panel.mute", "Mute", "sound.mute", &SoundWish::muted);
    toggle ("panel.click", "Click of the cues", "sound.click", &SoundWish::click);
    toggle ("panel.midiCode", "MIDI time code", "sound.midiCode", &SoundWish::midiCode);
    toggle ("panel.linearCode", "Linear timecode, right", "sound.linearCode", &SoundWish::linearCode);
    items.back().gap = 14;
    const auto outputs = CodeDesk::outputs();
    if (outputs.empty())
        say ("panel.midiHint", "This machine has no MIDI output.", Face::words, size::small, true);
    else
    {
        say ("panel.midiHint", "MIDI output", Face::words, size::small, true, 2);
        std::vector<juce::String> midiNames;
        int now = 0;
        for (std::size_t i = 0; i < outputs.size(); ++i)
        {
            midiNames.push_back (text (outputs[i]));
            if (outputs[i] == bench.soundWish().midiOutput)
                now = static_cast<int> (i);
        }
        choiceRow ("panel.midi", midiNames, now,
                   [this, outputs] (int which)
                   {
                       auto changed = bench.soundWish();
                       changed.midiOutput = outputs[static_cast<std::size_t> (which)];
                       bench.setSound (changed);
                   });
    }
    items.back().gap = 14;
    button ("panel.leave", "Good", WordButton::Style::main, [this] { bench.showPanel (Panel::ledger); });
    items.back().gap = 18;
    say ("panel.note", "Sounds are heard when the film plays as delivered, on, at a half to twice its speed.", Face::words,
         size::small, true);
}

/// What a list that somebody sent would change, before it does.
void PanelView::buildImport()
{
    say ("panel.title", "Read a list into the book", Face::strong, size::large);
    auto& path = field ("panel.path", "Path of the list", text (bench.lists.path()));
    path.onTextChange = [this, &path]
    {
        bench.lists.type (path.getText().trim().toStdString());
        const auto chosen = "panel.format." + juce::String (static_cast<int> (bench.lists.format()));
        for (auto& item : items)
            if (auto* word = dynamic_cast<WordButton*> (item.component.get());
                word != nullptr && word->getComponentID().startsWith ("panel.format."))
                word->setToggleState (word->getComponentID() == chosen, juce::dontSendNotification);
    };
    const auto go = [this, &path] { bench.lists.look (path.getText().trim().toStdString()); };
    path.entered = go;
    button ("panel.choose", "Choose...", WordButton::Style::raised, [this, &path] { choose ("The list", "*", path); });
    items.back().gap = 14;
    say ("panel.formatHint", "What it is", Face::words, size::small, true, 2);
    std::vector<juce::String> names;
    for (const auto& format : desk::importFormats())
        names.push_back (text (format.name));
    choiceRow ("panel.format", names, static_cast<int> (bench.lists.format()),
               [this] (int which) { bench.lists.setFormat (static_cast<std::size_t> (which)); });
    items.back().gap = 6;
    say ("panel.formatWhat", text (desk::importFormats()[bench.lists.format()].what), Face::words, size::small, true, 14);
    const bool looked = bench.lists.plan() != nullptr;
    button ("panel.go", "Show what it would change", looked ? WordButton::Style::raised : WordButton::Style::main, go);
    if (looked)
        button ("panel.take", "Take it", WordButton::Style::main, [this] { bench.lists.take(); });
    button ("panel.leave", "Leave it", WordButton::Style::raised, [this] { bench.showPanel (Panel::ledger); });
    if (! looked)
        return;
    items.back().gap = 16;
    say ("panel.summary", text (bench.lists.summary()), Face::words, size::usual, false, 10);
    constexpr std::size_t most = 14;
    const auto lines = bench.lists.lines();
    juce::String all;
    for (std::size_t i = 0; i < lines.size() && i < most; ++i)
        all += (i == 0 ? "" : "\n") + text (lines[i]);
    if (lines.size() > most)
        all += "\nand " + juce::String (static_cast<int> (lines.size() - most)) + " more";
    say ("panel.lines", all, Face::words, size::small, true);
}
} // namespace shutterbeat::window
