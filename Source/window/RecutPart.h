#pragma once

#include "window/Bench.h"
#include "window/Controls.h"
#include "window/LedgerPart.h"
#include "window/PictureFeed.h"
#include "window/RowList.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>

namespace shutterbeat::window
{
class RecutChanges;

/// Old and new beside each other: first what has to be decided, as pictures, then what changed from edition to edition, what
/// may be done so that picture and music meet again, and what became of the hits.
class RecutPart final : public LedgerPart
{
public:
    RecutPart (Bench& bench, PictureFeed& feed);
    ~RecutPart() override;

    void refresh() override;
    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    void paintPair (juce::Graphics& g);
    void paintSide (juce::Graphics& g, juce::Rectangle<float> box, const std::string& print, std::int64_t frame, const char* words);
    void choose();

    Bench& bench;
    PictureFeed& feed;
    Field path;
    WordButton find, go;
    WordButton earlier, later, back, on, same, other;
    std::unique_ptr<RecutChanges> changes;
    RowList list;
    std::unique_ptr<juce::FileChooser> chooser;
    juce::Rectangle<float> pairBox, listHead;
};
} // namespace shutterbeat::window
