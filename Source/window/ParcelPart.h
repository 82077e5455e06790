#pragma once

#include "window/Bench.h"
#include "window/Controls.h"
#include "window/LedgerPart.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::window
{
/// A parcel for one person: for whom, what goes in, where it is packed; and what is new for them since the last one.
class ParcelPart final : public LedgerPart
{
public:
    explicit ParcelPart (Bench& bench);

    void refresh() override;
    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    Bench& bench;
    std::vector<std::unique_ptr<WordButton>> people;
    Field person;
    WordButton movie, pop, zip;
    Field path;
    WordButton pack;
    std::vector<std::string> news;
    std::vector<spotting::Parcel> sent;
    juce::Rectangle<float> whomLine, whatLine, whereLine, newsBox;
};
} // namespace shutterbeat::window
