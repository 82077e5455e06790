#pragma once

#include "window/Bench.h"
#include "window/Controls.h"
#include "window/LedgerPart.h"
#include "window/RowList.h"
#include "window/SpottingDetails.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::window
{
/// The list of hits, or of cues, with their times.
class SpottingPart final : public LedgerPart, private Rows
{
public:
    explicit SpottingPart (Bench& bench);

    void refresh() override;
    /// The hit last passed is marked, and kept in view while the list is in time order.
    void moved() override;
    /// Opens the field on the first selected row.
    void renameSelected();
    void noteOnSelected();
    void find();

    void paint (juce::Graphics& g) override;
    void resized() override;
    void mouseWheelMove (const juce::MouseEvent& event, const juce::MouseWheelDetails& wheel) override
    {
        list.mouseWheelMove (event, wheel);
    }

    static constexpr int rowHeight = 32, findHeight = 34, columnsHeight = 26, footHeight = 46;

private:
    struct Columns
    {
        juce::Rectangle<float> mark, time, label, kind, weight, frame;
    };
    [[nodiscard]] Columns columnsIn (juce::Rectangle<float> row) const;
    [[nodiscard]] int rowCount() const override { return static_cast<int> (order.size()); }
    [[nodiscard]] std::string rowId (int row) const override;
    [[nodiscard]] juce::String rowName (int row) const override;
    [[nodiscard]] bool rowChosen (int row) const override { return bench.isSelected (rowId (row)); }
    void paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool chosen) override;
    void rowPressed (int row, const juce::ModifierKeys& mods) override;
    void rowDoublePressed (int row) override;
    void paintHit (juce::Graphics& g, std::size_t index, juce::Rectangle<float> box, bool chosen);
    void paintCue (juce::Graphics& g, std::size_t index, juce::Rectangle<float> box, bool chosen);
    void showSelected();
    void placeName();
    void closeName (bool keep);
    [[nodiscard]] juce::Rectangle<int> listArea() const;
    [[nodiscard]] juce::Rectangle<float> headOfColumns() const;

    Bench& bench;
    std::vector<std::unique_ptr<WordButton>> orderButtons;
    RowList list;
    Field search;
    WordButton mustOnly, openOnly;
    SpottingDetails details;
    std::vector<std::size_t> order;
    std::size_t all = 0;                ///< rows before the filter
    std::vector<std::int64_t> passedAt; ///< delivered frame over all reels of each row in time order; lost ones left out
    int nowRow = -1;                    ///< the hit last passed, in time order
    std::unique_ptr<Field> naming;
    std::string namingId;
    std::vector<std::string> selectionSeen;
};
} // namespace shutterbeat::window
