#include "window/Controls.h"

namespace shutterbeat::window
{
void drawLine (juce::Graphics& g, const juce::String& words, juce::Rectangle<float> area, const juce::Font& how,
               juce::Colour colour, juce::Justification where)
{
    g.setFont (how);
    g.setColour (colour);
    g.drawText (words, area, where, true);
}

void drawLines (juce::Graphics& g, const juce::String& words, juce::Rectangle<float> area, const juce::Font& font,
                juce::Colour colour)
{
    const float high = font.getHeight() * 1.1f;
    const int room = std::max (1, static_cast<int> (area.getHeight() / high));
    auto left = juce::StringArray::fromTokens (words, " \r\n", {});
    left.removeEmptyStrings();
    std::vector<juce::String> lines;
    while (left.size() > 0 && static_cast<int> (lines.size()) < room)
    {
        juce::String line = left[0];
        left.remove (0);
        const bool last = static_cast<int> (lines.size()) + 1 == room;
        // The last line takes all that is left: it is cut where it ends.
        while (left.size() > 0 && (last || textWidth (font, line + " " + left[0]) <= area.getWidth()))
        {
            line += " " + left[0];
            left.remove (0);
        }
        lines.push_back (line);
    }
    area = area.withSizeKeepingCentre (area.getWidth(), high * static_cast<float> (lines.size()));
    for (const auto& line : lines)
        drawLine (g, line, area.removeFromTop (high), font, colour);
}

// ---- WordButton

WordButton::WordButton (const juce::String& id, const juce::String& words, Style how)
    : juce::Button (words)
    , style (how)
{
    setComponentID (id);
    setTitle (words);
    setButtonText (words);
    setWantsKeyboardFocus (true);
    setMouseClickGrabsKeyboardFocus (false);
    setMouseCursor (juce::MouseCursor::PointingHandCursor);
}

void WordButton::setWords (const juce::String& words)
{
    setButtonText (words);
    setTitle (words);
}

void WordButton::setSign (std::optional<Sign> changed)
{
    sign = changed;
    repaint();
}

void WordButton::setKeyShown (const juce::String& key)
{
    keyShown = key;
    setDescription (key.isEmpty() ? "" : "Key: " + key);
    repaint();
}

int WordButton::fittingWidth() const
{
    const float words = textWidth (wordsFont(), getButtonText());
    const float keys = keyShown.isEmpty() ? 0.0f : textWidth (font (Face::numbers, size::small), keyShown) + 10.0f;
    return juce::roundToInt (words + keys) + 2 * (plain() ? 10 : 14);
}

bool WordButton::keyPressed (const juce::KeyPress& key)
{
    if (key == juce::KeyPress::spaceKey || key == juce::KeyPress::returnKey)
    {
        triggerClick();
        return true;
    }
    return juce::Button::keyPressed (key);
}

void WordButton::paintButton (juce::Graphics& g, bool over, bool down)
{
    const auto& colours = theme();
    auto box = getLocalBounds().toFloat().reduced (1.5f);
    const bool on = getToggleState();
    const float alpha = isEnabled() ? 1.0f : 0.4f;
    auto back = style == Style::main ? colours.lamp : style == Style::raised ? colours.raised : juce::Colour();
    if (plain() && on)
        back = colours.raised;
    if (down && isEnabled())
        back = style == Style::main ? colours.lamp.darker (0.15f) : colours.raised.interpolatedWith (colours.quiet, 0.3f);
    else if (over && isEnabled())
        back = style == Style::main ? colours.lamp.brighter (0.1f) : colours.raised.interpolatedWith (colours.quiet, 0.15f);
    g.setColour (back.withMultipliedAlpha (alpha));
    g.fillRoundedRectangle (box, 5.0f);
    if (hasKeyboardFocus (false))
    {
        g.setColour (colours.lamp);
        g.drawRoundedRectangle (box, 5.0f, 2.0f);
    }
    const auto mainText = colours.lamp.getPerceivedBrightness() > 0.5f ? juce::Colour (0xff14110f) : juce::Colours::white;
    const auto ink = (style == Style::main        ? mainText
                      : plain() && ! on && ! over ? colours.quiet
                                                  : colours.text)
                         .withMultipliedAlpha (alpha);
    const auto small = font (Face::numbers, size::small);
    if (sign)
    {
        const bool keyBelow = keyShown.isNotEmpty();
        auto area = box;
        if (keyBelow)
            drawLine (g, keyShown, area.removeFromBottom (16.0f).expanded (3.0f, 0), small,
                      colours.quiet.withMultipliedAlpha (alpha), juce::Justification::centred);
        g.setColour (ink);
        g.fillPath (signShape (*sign, area.withSizeKeepingCentre (15.0f, 15.0f)));
        return;
    }
    auto area = box.reduced (plain() ? 8.0f : 12.0f, 0);
    const auto usual = wordsFont();
    if (keyShown.isEmpty())
        return drawLine (g, getButtonText(), area, usual, ink, juce::Justification::centred);
    drawLine (g, keyShown, area.removeFromRight (textWidth (small, keyShown) + 2.0f), small,
              style == Style::main ? ink : colours.quiet.withMultipliedAlpha (alpha), juce::Justification::centredRight);
    drawLine (g, getButtonText(), area, usual, ink);
}

// ---- Field

Field::Field (const juce::String& id, const juce::String& title)
{
    setComponentID (id);
    setTitle (title);
    setMultiLine (false);
    setSelectAllWhenFocused (true);
    setIndents (8, 0);
    setJustification (juce::Justification::centredLeft);
    dress();
    onReturnKey = [this]
    {
        if (entered)
            entered();
    };
    onEscapeKey = [this]
    {
        if (left)
            left();
    };
}

void Field::dress()
{
    applyFontToAllText (font (Face::words, size::usual));
    applyColourToAllText (theme().text);
}

void chooseInto (Field& field, std::unique_ptr<juce::FileChooser>& chooser, const juce::String& title, const juce::File& start,
                 Choose what, const juce::String& pattern)
{
    using Browser = juce::FileBrowserComponent;
    chooser = std::make_unique<juce::FileChooser> (title, start, pattern);
    juce::Component::SafePointer<Field> target (&field);
    chooser->launchAsync ((what == Choose::newFile ? Browser::saveMode : Browser::openMode)
                              | (what == Choose::folder ? Browser::canSelectDirectories : Browser::canSelectFiles),
                          [target] (const juce::FileChooser& chosen)
                          {
                              if (target == nullptr || chosen.getResult() == juce::File())
                                  return;
                              target->setText (chosen.getResult().getFullPathName(), true);
                              target->grabKeyboardFocus();
                          });
}

// ---- Paragraph

Paragraph::Paragraph (const juce::String& id)
{
    setComponentID (id);
    setInterceptsMouseClicks (false, false);
}

void Paragraph::setWords (const juce::String& said, Face inFace, float ofHeight, bool beQuiet)
{
    words = said;
    face = inFace;
    height = ofHeight;
    quiet = beQuiet;
    setTitle (words);
    repaint();
}

juce::TextLayout Paragraph::layoutFor (float width) const
{
    juce::AttributedString whole;
    whole.append (words, font (face, height), quiet ? theme().quiet : theme().text);
    whole.setLineSpacing (height * 0.3f);
    whole.setWordWrap (juce::AttributedString::byWord);
    juce::TextLayout layout;
    layout.createLayout (whole, width);
    return layout;
}

int Paragraph::heightFor (int width) const
{
    return words.isEmpty() ? 0 : juce::roundToInt (layoutFor (static_cast<float> (width)).getHeight()) + 4;
}

void Paragraph::paint (juce::Graphics& g)
{
    layoutFor (static_cast<float> (getWidth())).draw (g, getLocalBounds().toFloat());
}

// ---- Look

Look::Look()
{
    dress();
}

void Look::dress()
{
    const auto& dyes = theme();
    setColour (juce::TextEditor::backgroundColourId, dyes.ground);
    setColour (juce::TextEditor::textColourId, dyes.text);
    setColour (juce::TextEditor::highlightColourId, dyes.lamp.withAlpha (0.35f));
    setColour (juce::TextEditor::highlightedTextColourId, dyes.text);
    setColour (juce::CaretComponent::caretColourId, dyes.lamp);
    setColour (juce::PopupMenu::backgroundColourId, dyes.raised);
    setColour (juce::PopupMenu::textColourId, dyes.text);
    setColour (juce::ScrollBar::thumbColourId, dyes.quiet);
    setColour (juce::ResizableWindow::backgroundColourId, dyes.ground);
    setColour (juce::TooltipWindow::backgroundColourId, dyes.raised);
    setColour (juce::TooltipWindow::textColourId, dyes.text);
    setColour (juce::TooltipWindow::outlineColourId, dyes.raised);
}

void Look::drawPopupMenuBackground (juce::Graphics& g, int width, int height)
{
    g.fillAll (theme().raised);
    g.setColour (theme().quiet.withAlpha (0.35f));
    g.drawRect (0, 0, width, height, 1);
}

void Look::drawPopupMenuItem (juce::Graphics& g, const juce::Rectangle<int>& area, bool isSeparator, bool isActive,
                              bool isHighlighted, bool isTicked, bool hasSubMenu, const juce::String& words,
                              const juce::String& shortcut, const juce::Drawable*, const juce::Colour*)
{
    const auto& dyes = theme();
    auto box = area.toFloat();
    if (isSeparator)
        return;
    if (isHighlighted && isActive)
    {
        g.setColour (dyes.lamp.withAlpha (0.22f));
        g.fillRoundedRectangle (box.reduced (4.0f, 1.0f), 4.0f);
    }
    box = box.reduced (12.0f, 0);
    auto sign = box.removeFromLeft (18.0f);
    if (isTicked)
    {
        g.setColour (dyes.lamp);
        g.fillPath (signShape (Sign::tick, sign.withSizeKeepingCentre (11.0f, 11.0f)));
    }
    const auto ink = dyes.text.withMultipliedAlpha (isActive ? 1.0f : 0.45f);
    if (hasSubMenu)
    {
        g.setColour (dyes.quiet);
        g.fillPath (signShape (Sign::play, box.removeFromRight (12.0f).withSizeKeepingCentre (8.0f, 8.0f)));
    }
    if (shortcut.isNotEmpty())
        drawLine (g, shortcut, box, font (Face::numbers, size::small), dyes.quiet, juce::Justification::centredRight);
    drawLine (g, words, box.translated (4.0f, 0), font (Face::words, size::usual), ink);
}

void Look::getIdealPopupMenuItemSize (const juce::String& words, bool isSeparator, int, int& width, int& height)
{
    height = isSeparator ? 8 : 28;
    width = isSeparator ? 40 : juce::roundToInt (textWidth (font (Face::words, size::usual), words)) + 64;
}

void Look::drawTextEditorOutline (juce::Graphics& g, int width, int height, juce::TextEditor& field)
{
    const bool focused = field.hasKeyboardFocus (true);
    g.setColour (focused ? theme().lamp : theme().quiet.withAlpha (0.5f));
    g.drawRoundedRectangle (juce::Rectangle<int> (width, height).toFloat().reduced (0.75f), 4.0f, focused ? 1.5f : 1.0f);
}

void Look::fillTextEditorBackground (juce::Graphics& g, int width, int height, juce::TextEditor&)
{
    g.setColour (theme().ground);
    g.fillRoundedRectangle (juce::Rectangle<int> (width, height).toFloat().reduced (0.5f), 4.0f);
}

void Look::drawScrollbar (juce::Graphics& g, juce::ScrollBar&, int x, int y, int width, int height, bool vertical, int thumbStart,
                          int thumbSize, bool over, bool)
{
    auto thumb =
        vertical ? juce::Rectangle<int> (x, thumbStart, width, thumbSize) : juce::Rectangle<int> (thumbStart, y, thumbSize, height);
    g.setColour (theme().quiet.withAlpha (over ? 0.8f : 0.5f));
    g.fillRoundedRectangle (thumb.toFloat().reduced (2.0f), 2.0f);
}
} // namespace shutterbeat::window
