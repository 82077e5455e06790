#pragma once

#include "window/Bench.h"
#include "window/Controls.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::window
{
/// All that the row has no room for, of the selected hits or of the selected cue, to be typed in place. What is typed goes to
/// every selected one; a field in which they differ is empty and changes nothing until something is typed.
class SpottingDetails final : public juce::Component
{
public:
    explicit SpottingDetails (Bench& bench);

    void refresh();
    /// The keyboard goes to the note; Enter keeps it and gives the keyboard back, while the film runs on.
    void typeNote();
    /// Of what is selected now; 0: nothing is.
    [[nodiscard]] int wantedHeight() const;

    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    struct Line
    {
        std::unique_ptr<Field> field;
        juce::String words;
        bool ofHit = false;
        juce::String asShown; ///< what the field was filled with: only another text is taken
    };
    Line& add (const char* id, const char* words, bool ofHit);
    void fill (Line& line, const juce::String& value);
    void take (const Line& line, const std::string& typed);
    void takeHit (const std::string& id, const std::string& typed);
    void takeCue (const std::string& id, const std::string& typed);
    [[nodiscard]] juce::String about() const;

    Bench& bench;
    std::vector<Line> lines;
    WordButton kind, status; ///< of a cue
    bool hits = false, cues = false;
};
} // namespace shutterbeat::window
