#pragma once

#include "window/Bench.h"
#include "window/Controls.h"
#include "window/LedgerPart.h"
#include "window/ParcelPart.h"
#include "window/RowList.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>

namespace shutterbeat::window
{
/// What to make for others: every sheet, list and file with a tick, the pages of a sheet as they will be, and where it goes.
class HandOverPart final : public LedgerPart, private Rows
{
public:
    explicit HandOverPart (Bench& bench);

    void refresh() override;
    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    [[nodiscard]] int rowCount() const override;
    [[nodiscard]] std::string rowId (int row) const override;
    [[nodiscard]] juce::String rowName (int row) const override;
    [[nodiscard]] bool rowChosen (int row) const override;
    void paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool chosen) override;
    void rowPressed (int row, const juce::ModifierKeys& mods) override;
    void rowDoublePressed (int row) override;
    void choose();
    void chooseDelivery();

    Bench& bench;
    WordButton delivered;
    WordButton files, forOne; ///< what is shown: sheets and files, or a parcel for one person
    WordButton everything, nothing, a4, letter;
    RowList list;
    WordButton look, back, on, away;
    Field folder;
    WordButton find, make;
    ParcelPart parcel;
    int at = 0;
    juce::Image page;
    const void* pageOf = nullptr;
    int pageMade = -1;
    juce::Rectangle<float> pageBox;
    std::unique_ptr<juce::FileChooser> chooser;
};
} // namespace shutterbeat::window
