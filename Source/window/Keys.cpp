#include "window/Keys.h"

#include "time/Text.h"

#include <map>

namespace shutterbeat::window
{
juce::KeyPress keyPressOf (const std::string& key)
{
    static const std::map<std::string, int> named{
        { "Space", juce::KeyPress::spaceKey },
        { "Left", juce::KeyPress::leftKey },
        { "Right", juce::KeyPress::rightKey },
        { "Up", juce::KeyPress::upKey },
        { "Down", juce::KeyPress::downKey },
        { "Home", juce::KeyPress::homeKey },
        { "End", juce::KeyPress::endKey },
        { "Enter", juce::KeyPress::returnKey },
        { "Delete", juce::KeyPress::deleteKey },
        { "Escape", juce::KeyPress::escapeKey },
        { "F1", juce::KeyPress::F1Key },
        { "F2", juce::KeyPress::F2Key },
        { "F11", juce::KeyPress::F11Key },
        { "PageUp", juce::KeyPress::pageUpKey },
        { "F8", juce::KeyPress::F8Key },
        { "F9", juce::KeyPress::F9Key },
        { "PageDown", juce::KeyPress::pageDownKey },
    };
    int modifiers = 0;
    std::string last = key;
    for (const auto& [word, flag] : { std::pair{ "Ctrl+", juce::ModifierKeys::ctrlModifier },
                                      { "Shift+", juce::ModifierKeys::shiftModifier },
                                      { "Alt+", juce::ModifierKeys::altModifier } })
        if (time::startsWith (last, word))
        {
            modifiers |= flag;
            last = last.substr (std::string (word).size());
        }
    const auto found = named.find (last);
    if (found != named.end())
        return { found->second, modifiers, 0 };
    return { last.empty() ? 0 : static_cast<int> (static_cast<unsigned char> (last.front())), modifiers, 0 };
}

const Action* actionFor (const juce::KeyPress& key)
{
    // F2 and Backspace are second keys for naming and removing.
    if (key == juce::KeyPress (juce::KeyPress::F2Key))
        return &actionNamed ("edit.rename");
    if (key == juce::KeyPress (juce::KeyPress::backspaceKey))
        return &actionNamed ("edit.remove");
    const auto typed = key.getTextCharacter();
    const bool sign =
        typed > ' ' && typed < 127 && ! juce::CharacterFunctions::isLetterOrDigit (typed) && ! key.getModifiers().isCtrlDown();
    for (const auto& action : actions())
    {
        if (action.key.empty())
            continue;
        // Signs are told by what was typed: where [ lies, and with which modifier, differs between keyboards.
        if (sign && action.key.size() == 1)
        {
            const char wanted = action.key.front();
            if (static_cast<juce::juce_wchar> (wanted) == typed || (wanted == '+' && typed == '='))
                return &action;
            continue;
        }
        const auto wanted = keyPressOf (action.key);
        if (key.getModifiers().getRawFlags() % (juce::ModifierKeys::altModifier << 1) != wanted.getModifiers().getRawFlags())
            continue;
        if (juce::KeyPress (key.getKeyCode(), 0, 0) == juce::KeyPress (wanted.getKeyCode(), 0, 0))
            return &action;
    }
    return nullptr;
}
} // namespace shutterbeat::window
