#pragma once

#include "window/Bench.h"
#include "window/RowList.h"

#include <vector>

namespace shutterbeat::window
{
/// The rows of a recut: what changed inside each cue and what may be done about it, with its cost, then the shots that
/// changed, then the hits that did.
class RecutChanges final : public Rows
{
public:
    explicit RecutChanges (Bench& owner)
        : bench (owner)
    {
    }
    /// Takes the desk's changes anew; `width`: pixels of a row, within which long words are broken over several.
    void refresh (float width);

    [[nodiscard]] int rowCount() const override { return static_cast<int> (lines.size()); }
    [[nodiscard]] std::string rowId (int row) const override { return "recut-" + std::to_string (row + 1); }
    [[nodiscard]] juce::String rowName (int row) const override;
    [[nodiscard]] bool rowChosen (int row) const override;
    void rowPressed (int row, const juce::ModifierKeys&) override;
    void paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool chosen) override;

private:
    enum class What
    {
        heading,
        change, ///< inside a cue
        way,    ///< to meet it
        shot,
        hit
    };
    /// One row; broken words go on in the next, with the same place.
    struct Line
    {
        What what = What::heading;
        std::size_t index = 0; ///< of its kind: remedies, changed shots, hits
        std::size_t way = 0;   ///< of a remedy
        juce::String words, figures;
    };
    void add (Line line, float width);
    void addRemedies (float width);
    void goToChange (const Line& line);

    Bench& bench;
    std::vector<Line> lines;
    std::vector<const spotting::CarriedHit*> hits;
};
} // namespace shutterbeat::window
