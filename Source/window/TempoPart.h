#pragma once

#include "window/Bench.h"
#include "window/Controls.h"
#include "window/LedgerPart.h"
#include "window/RowList.h"
#include "window/TempoCurve.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <vector>

namespace shutterbeat::window
{
/// One tempo for a cue's hits: the curve of errors first, then the tempos that fit best, and for the one looked at every hit
/// with how many frames the beat comes early or late.
class TempoPart final : public LedgerPart
{
public:
    explicit TempoPart (Bench& bench);
    ~TempoPart() override;

    void refresh() override;
    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    class Tempos;
    class Hits;
    [[nodiscard]] int tempoRowsHeight() const;

    Bench& bench;
    WordButton previousCue, nextCue;
    std::vector<std::unique_ptr<WordButton>> measures;
    WordButton bind, fromIn, halves;
    Field range;
    TempoCurve curve;
    std::unique_ptr<Tempos> tempos;
    std::unique_ptr<Hits> hits;
    RowList tempoList, hitList;
    WordButton hear, take;
    juce::Rectangle<float> cueLine, rangeWords, temposHead, hitsHead, troubleBox;
};
} // namespace shutterbeat::window
