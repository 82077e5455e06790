#pragma once

#include "window/Bench.h"
#include "window/Controls.h"
#include "window/LedgerPart.h"
#include "window/RowList.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <vector>

namespace shutterbeat::window
{
/// Prints and their reels: which files they are, how their repeats were understood, what is missing; and another print to be added.
class PrintsPart final : public LedgerPart, private Rows
{
public:
    explicit PrintsPart (Bench& bench);

    void refresh() override;
    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    struct Reel
    {
        std::size_t print = 0, reel = 0;
    };
    [[nodiscard]] int rowCount() const override { return static_cast<int> (reels.size()); }
    [[nodiscard]] std::string rowId (int row) const override;
    [[nodiscard]] juce::String rowName (int row) const override;
    [[nodiscard]] bool rowChosen (int) const override { return false; }
    void paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool chosen) override;
    void rowPressed (int row, const juce::ModifierKeys& mods) override;
    [[nodiscard]] bool gone (const Reel& reel) const;
    void add();

    Bench& bench;
    RowList list;
    Field name, path;
    WordButton choose, adds, find;
    std::vector<Reel> reels;
    juce::Rectangle<float> headLine, addLine;
    std::unique_ptr<juce::FileChooser> chooser;
};
} // namespace shutterbeat::window
