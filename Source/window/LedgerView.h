#pragma once

#include "window/Bench.h"
#include "window/Controls.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::window
{
/// The list of hits, or of cues, with their times. Only the rows in view are components, so thousands cost nothing.
class LedgerView final : public juce::Component, private juce::ScrollBar::Listener
{
public:
    explicit LedgerView (Bench& bench);
    ~LedgerView() override;

    /// The book, its selection or its order has changed.
    void refresh();
    /// The film stands elsewhere: the hit last passed is marked, and kept in view while the list is in time order.
    void moved();
    /// Opens the field on the first selected row.
    void renameSelected();
    [[nodiscard]] bool renaming() const { return naming != nullptr; }
    /// Brings the first selected row into view.
    void showSelected();

    void paint (juce::Graphics& g) override;
    void resized() override;
    void mouseWheelMove (const juce::MouseEvent& event, const juce::MouseWheelDetails& wheel) override;

    static constexpr int rowHeight = 32, headHeight = 44, columnsHeight = 26, footHeight = 46, barWidth = 10;

private:
    class Row;
    struct Columns
    {
        juce::Rectangle<float> mark, time, label, kind, weight, frame;
    };
    [[nodiscard]] Columns columnsIn (juce::Rectangle<float> row) const;
    [[nodiscard]] int rowCount() const;
    [[nodiscard]] std::string idOfRow (int row) const;
    [[nodiscard]] juce::String accessibleName (int row) const;
    void paintHit (juce::Graphics& g, std::size_t index, juce::Rectangle<float> box, bool chosen);
    void paintCue (juce::Graphics& g, std::size_t index, juce::Rectangle<float> box, bool chosen);
    void pressedRow (int row, const juce::ModifierKeys& mods);
    void layoutRows();
    void closeName (bool keep);
    void scrollBarMoved (juce::ScrollBar*, double start) override;
    [[nodiscard]] juce::Rectangle<int> listArea() const;
    void bringIntoView (int row);

    Bench& bench;
    WordButton hitsPage, cuesPage;
    std::vector<std::unique_ptr<WordButton>> orderButtons;
    juce::ScrollBar bar{ true };
    juce::Component list; ///< clips the rows
    std::vector<std::unique_ptr<Row>> rows;
    std::vector<std::size_t> order;
    std::vector<std::int64_t> passedAt; ///< delivered frame over all reels of each row in time order; lost ones left out
    int nowRow = -1;                    ///< the hit last passed, in time order
    std::unique_ptr<Field> naming;
    std::string namingId;
    std::vector<std::string> selectionSeen;
    int scroll = 0; ///< pixels above the first row in view
};
} // namespace shutterbeat::window
