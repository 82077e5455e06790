#pragma once

#include "window/Bench.h"
#include "window/Controls.h"
#include "window/CutsCurve.h"
#include "window/LedgerPart.h"
#include "window/PrintsPart.h"
#include "window/RowList.h"
#include "window/SpeedsPart.h"

#include "spotting/CardRegister.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <vector>

namespace shutterbeat::window
{
/// The edition's shots and cards: what the scan found, to be looked at and put right. The shot on screen is the one worked on.
class FilmPart final : public LedgerPart, private Rows
{
public:
    explicit FilmPart (Bench& bench);

    void refresh() override;
    void moved() override;
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
    [[nodiscard]] std::size_t shotOf (int row) const { return shown[static_cast<std::size_t> (row)]; }
    [[nodiscard]] const film::Shot& shot (int row) const;
    void typeWording (std::size_t which);
    void closeWording (bool keep);
    void placeWording();

    Bench& bench;
    WordButton all, cardsOnly, speedsOf, printsOf, take;
    CutsCurve curve;
    RowList list;
    std::vector<std::unique_ptr<WordButton>> corrections;
    SpeedsPart speeds;
    PrintsPart prints;
    bool onlyCards = false;
    std::vector<std::size_t> shown; ///< indices of shots
    std::vector<spotting::CardRow> cards;
    std::vector<std::ptrdiff_t> cardOf; ///< of each shot: index into cards, or -1
    int nowRow = -1;
    std::unique_ptr<Field> typing;
    std::string typingShot;
};
} // namespace shutterbeat::window
