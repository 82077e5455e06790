#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::window
{
/// What a list shows, row by row.
class Rows
{
public:
    virtual ~Rows() = default;
    [[nodiscard]] virtual int rowCount() const = 0;
    /// Of its own among the rows; the component of the row is called "row-" and this.
    [[nodiscard]] virtual std::string rowId (int row) const = 0;
    /// What assistive technology says of it.
    [[nodiscard]] virtual juce::String rowName (int row) const = 0;
    [[nodiscard]] virtual bool rowChosen (int row) const = 0;
    virtual void paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool chosen) = 0;
    virtual void rowPressed (int row, const juce::ModifierKeys& mods) = 0;
    virtual void rowDoublePressed (int) {}
};

/// A scrolling list of which only the rows in view are components, so thousands cost nothing.
class RowList final : public juce::Component, private juce::ScrollBar::Listener
{
public:
    /// `id` names the list; its scroll bar is `id`.bar.
    RowList (Rows& rows, const juce::String& id, const juce::String& title, int rowHeight);
    ~RowList() override;

    /// The rows have changed.
    void refresh();
    void bringIntoView (int row);
    /// Where a row lies in the list, in view or not.
    [[nodiscard]] juce::Rectangle<int> boundsOf (int row) const;
    /// Called when rows have moved.
    std::function<void()> onMoved;

    void resized() override;
    void mouseWheelMove (const juce::MouseEvent& event, const juce::MouseWheelDetails& wheel) override;

    static constexpr int barWidth = 10;

private:
    class Row;
    void layoutRows();
    void scrollBarMoved (juce::ScrollBar*, double start) override;

    Rows& rows;
    juce::ScrollBar bar{ true };
    std::vector<std::unique_ptr<Row>> lines;
    const int rowHeight;
    int scroll = 0; ///< pixels above the first row in view
};
} // namespace shutterbeat::window
