#pragma once

#include "window/ActionList.h"
#include "window/Bench.h"
#include "window/Controls.h"
#include "window/Settings.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <vector>

namespace shutterbeat::window
{
/// What stands in the ledger's place when something is asked: a path, a speed, a decision. Nothing pops up.
class PanelView final : public juce::Component
{
public:
    PanelView (Bench& bench, const Settings& settings);
    ~PanelView() override;

    /// Builds the panel that the bench wants, when it is another than the one that stands.
    void refresh();
    /// Fills the first field, as a file dropped on the window does.
    void offerPath (const std::string& path);

    void paint (juce::Graphics& g) override;
    void resized() override;

private:
    enum class Flow
    {
        block, ///< over the whole width
        row    ///< beside the one before while there is room
    };
    struct Item
    {
        std::unique_ptr<juce::Component> component;
        Flow flow = Flow::block;
        int height = 32, width = 0, gap = 8;
    };
    void build();
    void buildOpen();
    void buildNew();
    void buildFind();
    void buildGoTo();
    void buildPlaySpeed();
    void buildShotSource();
    void buildTaps();
    void buildSound();
    void buildSaveAs();
    void buildQuestion();
    void buildHistory();
    void buildActions();
    void buildImport();
    Paragraph& say (const juce::String& id, const juce::String& words, Face face = Face::words, float height = size::usual,
                    bool quiet = false, int gap = 8);
    Field& field (const juce::String& id, const juce::String& title, const juce::String& value = {});
    WordButton& button (const juce::String& id, const juce::String& words, WordButton::Style style, std::function<void()> act,
                        Flow flow = Flow::row);
    void choose (const juce::String& title, const juce::String& pattern, Field& into, Choose what = Choose::file);
    void choiceRow (const juce::String& group, const std::vector<juce::String>& names, int chosen, std::function<void (int)> act);
    void startNew();

    class Progress;

    Bench& bench;
    const Settings& settings;
    Panel built = Panel::ledger;
    const void* builtFor = nullptr; ///< the question or job that the panel was built for
    int builtRound = 0;
    std::vector<Item> items;
    Field* first = nullptr;
    Field *filmField = nullptr, *bookField = nullptr;
    ActionList* actionList = nullptr;
    juce::Viewport actionScroll;
    int speedChosen = 0, rateChosen = 0, remadeChosen = 0;
    std::unique_ptr<juce::FileChooser> chooser;
};
} // namespace shutterbeat::window
