#pragma once

#include "window/Fonts.h"
#include "window/Marks.h"
#include "window/Theme.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <memory>
#include <optional>

namespace shutterbeat::window
{
/// Draws one line, cut with an ellipsis where it does not fit.
void drawLine (juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area, const juce::Font& font,
               juce::Colour colour, juce::Justification how = juce::Justification::centredLeft);

/// Draws words over as many lines as there is room for, the last one cut with an ellipsis where they do not fit.
void drawLines (juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area, const juce::Font& font,
                juce::Colour colour);

/// A button of words, a sign, or both. A click leaves the keyboard where it was, so that Space still plays; reached with
/// Tab, Space and Enter press it.
class WordButton final : public juce::Button
{
public:
    enum class Style
    {
        quiet,  ///< words alone, for menus and switches
        column, ///< the same, small: the head of a column
        raised, ///< stands out of its panel
        main    ///< the one thing to do here
    };

    WordButton (const juce::String& id, const juce::String& words, Style style = Style::raised);

    void setWords (const juce::String& words);
    void setSign (std::optional<Sign> sign);
    /// Shown small beside or below the words: the key that does the same.
    void setKeyShown (const juce::String& key);
    /// Width that fits the words.
    [[nodiscard]] int fittingWidth() const;

    bool keyPressed (const juce::KeyPress& key) override;
    void focusGained (FocusChangeType) override { repaint(); }
    void focusLost (FocusChangeType) override { repaint(); }

private:
    void paintButton (juce::Graphics& g, bool over, bool down) override;

    [[nodiscard]] bool plain() const { return style == Style::quiet || style == Style::column; }
    [[nodiscard]] juce::Font wordsFont() const { return font (Face::words, style == Style::column ? size::small : size::usual); }

    Style style;
    std::optional<Sign> sign;
    juce::String keyShown;
};

/// A one-line field. Enter hands over what is typed, Escape leaves it.
class Field final : public juce::TextEditor
{
public:
    Field (const juce::String& id, const juce::String& title);
    void dress();
    std::function<void()> entered, left;
};

/// What a file dialogue is to choose.
enum class Choose
{
    file,
    folder,
    newFile
};
/// Opens the dialogue; what is chosen goes into the field, as if it were typed. `chooser` has to live as long.
void chooseInto (Field& field, std::unique_ptr<juce::FileChooser>& chooser, const juce::String& title, const juce::File& start,
                 Choose what = Choose::file, const juce::String& pattern = "*");

/// Words in a panel: as tall as they need to be at a width.
class Paragraph final : public juce::Component
{
public:
    explicit Paragraph (const juce::String& id);
    void setWords (const juce::String& words, Face face = Face::words, float height = size::usual, bool quiet = false);
    [[nodiscard]] int heightFor (int width) const;
    void paint (juce::Graphics& g) override;

private:
    [[nodiscard]] juce::TextLayout layoutFor (float width) const;
    juce::String words;
    Face face = Face::words;
    float height = size::usual;
    bool quiet = false;
};

/// Colours and shapes of what JUCE itself draws: menus, fields, scroll bars, tooltips.
class Look final : public juce::LookAndFeel_V4
{
public:
    Look();
    /// Takes the colours of the theme in use.
    void dress();

    juce::Font getPopupMenuFont() override { return font (Face::words, size::usual); }
    void drawPopupMenuBackground (juce::Graphics& g, int width, int height) override;
    void drawPopupMenuItem (juce::Graphics& g, const juce::Rectangle<int>& area, bool isSeparator, bool isActive,
                            bool isHighlighted, bool isTicked, bool hasSubMenu, const juce::String& words,
                            const juce::String& shortcut, const juce::Drawable* icon, const juce::Colour* colour) override;
    void getIdealPopupMenuItemSize (const juce::String& words, bool isSeparator, int standardHeight, int& width,
                                    int& height) override;
    void drawTextEditorOutline (juce::Graphics& g, int width, int height, juce::TextEditor& field) override;
    void fillTextEditorBackground (juce::Graphics& g, int width, int height, juce::TextEditor& field) override;
    void drawScrollbar (juce::Graphics& g, juce::ScrollBar& bar, int x, int y, int width, int height, bool vertical, int thumbStart,
                        int thumbSize, bool over, bool down) override;
    int getDefaultScrollbarWidth() override { return 8; }
};
} // namespace shutterbeat::window
