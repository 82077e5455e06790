#pragma once

#include "window/Bench.h"
#include "window/Controls.h"
#include "window/LedgerPart.h"
#include "window/RowList.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <vector>

namespace shutterbeat::window
{
/// Running speeds: the curve along the film, its runs of one speed, and a speed to be given to the shot, the run or the film.
class SpeedsPart final : public LedgerPart, private Rows
{
public:
    explicit SpeedsPart (Bench& bench);

    void refresh() override;
    void moved() override;
    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    [[nodiscard]] int rowCount() const override { return static_cast<int> (runs.size()); }
    [[nodiscard]] std::string rowId (int row) const override { return "speed-" + std::to_string (row + 1); }
    [[nodiscard]] juce::String rowName (int row) const override;
    [[nodiscard]] bool rowChosen (int row) const override;
    void paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool chosen) override;
    void rowPressed (int row, const juce::ModifierKeys& mods) override;
    void paintCurve (juce::Graphics& g);
    [[nodiscard]] juce::String shotsText (const spotting::SpeedRun& run) const;

    Bench& bench;
    RowList list;
    /// The usual speeds in every way they are spoken of; a press types one.
    class Usual final : public Rows
    {
    public:
        explicit Usual (SpeedsPart& owner)
            : part (owner)
        {
        }
        std::vector<spotting::SpeedRow> rows;

    private:
        [[nodiscard]] int rowCount() const override { return static_cast<int> (rows.size()); }
        [[nodiscard]] std::string rowId (int row) const override;
        [[nodiscard]] juce::String rowName (int row) const override;
        [[nodiscard]] bool rowChosen (int row) const override;
        void paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool chosen) override;
        void rowPressed (int row, const juce::ModifierKeys& mods) override;

        SpeedsPart& part;
    };
    Usual usual{ *this };
    RowList table;
    WordButton shot, run, whole;
    Field speed;
    WordButton take;
    Paragraph effect;
    std::vector<spotting::SpeedRun> runs;
    juce::Rectangle<float> curveBox, tableHead;
    std::size_t shotSeen = 0;
};
} // namespace shutterbeat::window
