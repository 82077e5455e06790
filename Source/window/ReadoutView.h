#pragma once

#include "window/Bench.h"
#include "window/Controls.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <vector>

namespace shutterbeat::window
{
/// Where the film stands, in every count, and the buttons that move it.
class ReadoutView final : public juce::Component
{
public:
    explicit ReadoutView (Bench& bench);

    /// Takes what is on screen; `late`: an older picture still stands in for it.
    void refresh (bool late);
    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    struct Count
    {
        juce::String name, value;
        float width;
    };
    /// Where there is little room all counts stay, smaller.
    [[nodiscard]] bool narrow() const;
    [[nodiscard]] int buttonWidth() const { return narrow() ? 41 : 43; }
    [[nodiscard]] std::vector<Count> counts (const film::PlaceTimes& at) const;

    Bench& bench;
    bool late = false;
    std::vector<std::unique_ptr<WordButton>> buttons;
    WordButton* toggle = nullptr;
};
} // namespace shutterbeat::window
