#include "window/RowList.h"

#include "window/Theme.h"

namespace shutterbeat::window
{
/// One line: takes clicks and tells assistive technology what it is.
class RowList::Row final : public juce::Component
{
public:
    explicit Row (Rows& owner)
        : rows (owner)
    {
        setMouseClickGrabsKeyboardFocus (false);
    }

    void show (int which)
    {
        row = which;
        setComponentID ("row-" + juce::String::fromUTF8 (rows.rowId (row).c_str()));
        setTitle (rows.rowName (row));
        repaint();
    }

    void paint (juce::Graphics& g) override
    {
        if (row < 0 || row >= rows.rowCount())
            return;
        const auto& colours = theme();
        const auto box = getLocalBounds().toFloat();
        const bool chosen = rows.rowChosen (row);
        if (chosen)
        {
            g.setColour (colours.raised);
            g.fillRoundedRectangle (box.reduced (2.0f, 1.0f), 4.0f);
            g.setColour (colours.lamp);
            g.drawRoundedRectangle (box.reduced (2.5f, 1.5f), 4.0f, 1.5f);
        }
        else if (isMouseOver())
        {
            g.setColour (colours.raised.withAlpha (0.5f));
            g.fillRoundedRectangle (box.reduced (2.0f, 1.0f), 4.0f);
        }
        rows.paintRow (g, row, box, chosen);
    }
    void mouseEnter (const juce::MouseEvent&) override { repaint(); }
    void mouseExit (const juce::MouseEvent&) override { repaint(); }
    void mouseDown (const juce::MouseEvent& event) override { rows.rowPressed (row, event.mods); }
    void mouseDoubleClick (const juce::MouseEvent&) override { rows.rowDoublePressed (row); }

    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override
    {
        return std::make_unique<RowHandler> (*this);
    }

private:
    class RowHandler final : public juce::AccessibilityHandler
    {
    public:
        explicit RowHandler (Row& which)
            : AccessibilityHandler (which, juce::AccessibilityRole::listItem,
                                    juce::AccessibilityActions().addAction (juce::AccessibilityActionType::press,
                                                                            [&which] { which.rows.rowPressed (which.row, {}); }))
            , line (which)
        {
        }
        juce::AccessibleState getCurrentState() const override
        {
            auto state = AccessibilityHandler::getCurrentState().withSelectable();
            return line.rows.rowChosen (line.row) ? state.withSelected() : state;
        }

    private:
        Row& line;
    };

    Rows& rows;
    int row = -1;
};

RowList::RowList (Rows& theRows, const juce::String& id, const juce::String& title, int height)
    : rows (theRows)
    , rowHeight (height)
{
    setComponentID (id);
    setTitle (title);
    setMouseClickGrabsKeyboardFocus (false);
    setInterceptsMouseClicks (false, true);
    bar.setComponentID (id + ".bar");
    bar.setTitle ("Scroll");
    bar.setAutoHide (true);
    bar.addListener (this);
    addAndMakeVisible (bar);
}

RowList::~RowList()
{
    bar.removeListener (this);
}

void RowList::refresh()
{
    layoutRows();
    repaint();
}

juce::Rectangle<int> RowList::boundsOf (int row) const
{
    return { 0, row * rowHeight - scroll, getWidth() - barWidth, rowHeight };
}

void RowList::bringIntoView (int row)
{
    const int top = row * rowHeight;
    if (top < scroll)
        scroll = top - rowHeight;
    else if (top + rowHeight > scroll + getHeight())
        scroll = top + 2 * rowHeight - getHeight();
    layoutRows();
}

void RowList::resized()
{
    bar.setBounds (getLocalBounds().removeFromRight (barWidth));
    layoutRows();
}

void RowList::layoutRows()
{
    const int height = getHeight(), count = rows.rowCount();
    scroll = juce::jlimit (0, std::max (0, count * rowHeight - height), scroll);
    bar.setRangeLimits (0, std::max (1, count * rowHeight), juce::dontSendNotification);
    bar.setCurrentRange (scroll, std::max (1, height), juce::dontSendNotification);
    const auto needed = static_cast<std::size_t> (height > 0 ? height / rowHeight + 2 : 0);
    while (lines.size() < needed)
    {
        lines.push_back (std::make_unique<Row> (rows));
        addAndMakeVisible (*lines.back());
    }
    const int first = scroll / rowHeight;
    for (std::size_t i = 0; i < lines.size(); ++i)
    {
        const int row = first + static_cast<int> (i);
        const bool there = i < needed && row < count;
        lines[i]->setVisible (there);
        if (! there)
            continue;
        lines[i]->setBounds (boundsOf (row));
        lines[i]->show (row);
    }
    if (onMoved)
        onMoved();
}

void RowList::scrollBarMoved (juce::ScrollBar*, double start)
{
    scroll = static_cast<int> (start);
    layoutRows();
}

void RowList::mouseWheelMove (const juce::MouseEvent&, const juce::MouseWheelDetails& wheel)
{
    scroll -= juce::roundToInt (wheel.deltaY * static_cast<float> (8 * rowHeight));
    layoutRows();
}
} // namespace shutterbeat::window
