#pragma once

#include "window/Bench.h"
#include "window/Controls.h"
#include "window/LedgerPart.h"
#include "window/RowList.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>

namespace shutterbeat::window
{
/// A recorded sound against the picture: first what is the matter with the whole of it, then every hit with how late the music
/// is, and the sound around the one looked at.
class LineUpPart final : public LedgerPart, private Rows
{
public:
    explicit LineUpPart (Bench& bench);

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
    [[nodiscard]] const desk::HitLineUp& hit (int row) const;
    [[nodiscard]] juce::String lateText (const desk::HitLineUp& hit) const;
    void paintSound (juce::Graphics& g);
    [[nodiscard]] juce::TextLayout words (int width) const;

    Bench& bench;
    Field path;
    WordButton find, add, previous, next, check, hear;
    RowList list;
    juce::Rectangle<float> soundLine, wordsBox, soundBox;
    std::unique_ptr<juce::FileChooser> chooser;
};
} // namespace shutterbeat::window
