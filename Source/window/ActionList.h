#pragma once

#include "window/Actions.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <vector>

namespace shutterbeat::window
{
/// Every action with its key, by menu; a click does it. Shown in the ledger's place.
class ActionList final : public juce::Component
{
public:
    explicit ActionList (Bench& bench);

    /// Only those whose name holds the words.
    void setFilter (const juce::String& words);
    void performFirst();
    [[nodiscard]] int fittingHeight() const;
    void paint (juce::Graphics& g) override;
    void mouseDown (const juce::MouseEvent& event) override;

private:
    static constexpr int rowHeight = 28;
    Bench& bench;
    std::vector<const Action*> shown;
};
} // namespace shutterbeat::window
