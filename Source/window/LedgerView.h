#pragma once

#include "window/Bench.h"
#include "window/Controls.h"
#include "window/FilmPart.h"
#include "window/HandOverPart.h"
#include "window/LineUpPart.h"
#include "window/RecutPart.h"
#include "window/SpottingPart.h"
#include "window/TempoPart.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <vector>

namespace shutterbeat::window
{
/// What the present work needs, beside the picture: the names of its parts, and below them the one that was chosen.
class LedgerView final : public juce::Component
{
public:
    LedgerView (Bench& bench, PictureFeed& feed);

    void refresh();
    void moved();
    void renameSelected();
    void noteOnSelected();
    void find();

    void paint (juce::Graphics& g) override;
    void resized() override;

    static constexpr int headHeight = 40;

private:
    [[nodiscard]] LedgerPart& partOf (LedgerPage page);

    Bench& bench;
    std::vector<std::unique_ptr<WordButton>> pages;
    SpottingPart spotting;
    FilmPart film;
    TempoPart tempo;
    RecutPart recut;
    LineUpPart lineUp;
    HandOverPart handOver;
    LedgerPart* shown = nullptr;
};
} // namespace shutterbeat::window
