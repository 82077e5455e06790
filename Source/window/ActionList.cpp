#include "window/ActionList.h"

#include "window/Controls.h"

namespace shutterbeat::window
{
ActionList::ActionList (Bench& theBench)
    : bench (theBench)
{
    setComponentID ("actions");
    setTitle ("Actions and their keys");
    setMouseClickGrabsKeyboardFocus (false);
    setFilter ({});
}

void ActionList::setFilter (const juce::String& words)
{
    shown.clear();
    for (const auto& action : actions())
        if (words.trim().isEmpty() || text (action.menu + " " + action.name).containsIgnoreCase (words.trim()))
            shown.push_back (&action);
    repaint();
}

void ActionList::performFirst()
{
    if (shown.empty())
        return;
    const auto* action = shown.front();
    bench.showPanel (Panel::ledger);
    perform (bench, *action);
}

int ActionList::fittingHeight() const
{
    return static_cast<int> (shown.size()) * rowHeight + 4;
}

void ActionList::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    const auto clip = g.getClipBounds();
    for (std::size_t i = 0; i < shown.size(); ++i)
    {
        auto row = juce::Rectangle<int> (0, static_cast<int> (i) * rowHeight, getWidth(), rowHeight);
        if (! row.intersects (clip))
            continue;
        const auto& action = *shown[i];
        const bool possible = ! action.possible || action.possible (bench);
        auto box = row.toFloat().reduced (8, 0);
        drawLine (g, i == 0 || shown[i - 1]->menu != action.menu ? text (action.menu) : juce::String(), box.removeFromLeft (52),
                  font (Face::words, size::small), colours.quiet);
        drawLine (g, text (action.key), box.removeFromRight (110), font (Face::numbers, size::small), colours.lamp,
                  juce::Justification::centredRight);
        drawLine (g, text (action.nameNow ? action.nameNow (bench) : action.name), box, font (Face::words, size::usual),
                  possible ? colours.text : colours.quiet.withAlpha (0.7f));
    }
}

void ActionList::mouseDown (const juce::MouseEvent& event)
{
    const int row = event.y / rowHeight;
    if (row < 0 || row >= static_cast<int> (shown.size()))
        return;
    const auto* action = shown[static_cast<std::size_t> (row)];
    bench.showPanel (Panel::ledger);
    perform (bench, *action);
}
} // namespace shutterbeat::window
