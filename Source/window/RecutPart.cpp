#include "window/RecutPart.h"

#include "window/RecutChanges.h"

#include <algorithm>

namespace shutterbeat::window
{
namespace
{
constexpr int recutRow = 30;

const film::Print* printOf (const spotting::Book& book, const std::string& id)
{
    for (const auto& print : book.prints)
        if (print.id == id)
            return &print;
    return nullptr;
}

std::string doubtText (spotting::Doubt doubt)
{
    return doubt == spotting::Doubt::shot    ? "Are these the same shot?"
           : doubt == spotting::Doubt::frame ? "The same shot. Are these the same frame?"
                                             : "Does the new card stand for the old one?";
}
} // namespace

RecutPart::RecutPart (Bench& theBench, PictureFeed& theFeed)
    : bench (theBench)
    , feed (theFeed)
    , path ("recut.path", "File of the new print")
    , find ("recut.choose", "Choose...", WordButton::Style::raised)
    , go ("recut.go", "Match it", WordButton::Style::raised)
    , earlier ("recut.earlier", "Old earlier", WordButton::Style::column)
    , later ("recut.later", "Old later", WordButton::Style::column)
    , back ("recut.back", {}, WordButton::Style::quiet)
    , on ("recut.on", {}, WordButton::Style::quiet)
    , same ("recut.same", "The same", WordButton::Style::main)
    , other ("recut.other", "Not the same", WordButton::Style::raised)
    , changes (std::make_unique<RecutChanges> (bench))
    , list (*changes, "recut.list", "What changed", recutRow)
{
    setComponentID ("ledger.recutPart");
    setTitle ("Recut");
    path.setTextToShowWhenEmpty ("File of the new print", theme().quiet);
    path.entered = [this] { bench.recut.start (path.getText().trim().toStdString()); };
    path.left = [this] { bench.giveKeysBack(); };
    find.onClick = [this] { choose(); };
    go.onClick = [this] { bench.recut.start (path.getText().trim().toStdString()); };
    back.setSign (Sign::stepBack);
    back.setTitle ("A frame back in both");
    on.setSign (Sign::stepOn);
    on.setTitle ("A frame on in both");
    earlier.onClick = [this] { bench.recut.move (-1); };
    later.onClick = [this] { bench.recut.move (1); };
    back.onClick = [this] { bench.recut.step (-1); };
    on.onClick = [this] { bench.recut.step (1); };
    same.onClick = [this] { bench.recut.decide (spotting::Answer::same); };
    other.onClick = [this] { bench.recut.decide (spotting::Answer::other); };
    for (juce::Component* part :
         std::initializer_list<juce::Component*>{ &path, &find, &go, &earlier, &later, &back, &on, &same, &other, &list })
        addAndMakeVisible (part);
}

RecutPart::~RecutPart() = default;

void RecutPart::choose()
{
    chooseInto (path, chooser, "The new print", juce::File (text (bench.path())).getParentDirectory());
}

void RecutPart::refresh()
{
    bench.recut.refresh();
    path.dress();
    path.setTextToShowWhenEmpty ("File of the new print", theme().quiet);
    const bool any = bench.recut.looked() != nullptr;
    for (auto* button : { &earlier, &later, &back, &on, &same, &other })
        button->setVisible (any);
    if (any)
    {
        const bool card = bench.recut.looked()->doubt == spotting::Doubt::card;
        earlier.setEnabled (! card);
        later.setEnabled (! card);
    }
    go.setEnabled (! bench.job);
    resized();
    repaint();
}

void RecutPart::resized()
{
    auto box = getLocalBounds().reduced (partEdge, 0);
    auto line = box.removeFromTop (38).reduced (0, 3);
    go.setBounds (line.removeFromRight (go.fittingWidth()));
    line.removeFromRight (6);
    find.setBounds (line.removeFromRight (find.fittingWidth()));
    line.removeFromRight (6);
    path.setBounds (line);
    pairBox = {};
    if (bench.recut.looked() != nullptr)
    {
        const int pictures = (box.getWidth() - 10) / 2 * 3 / 4;
        pairBox = box.removeFromTop (46 + std::min (pictures, 200) + 20).toFloat();
        auto row = box.removeFromTop (30);
        back.setBounds (row.removeFromLeft (30));
        on.setBounds (row.removeFromLeft (30));
        later.setBounds (row.removeFromRight (later.fittingWidth()));
        earlier.setBounds (row.removeFromRight (earlier.fittingWidth()));
        row = box.removeFromTop (44).reduced (0, 5);
        same.setBounds (row.removeFromLeft (same.fittingWidth()));
        row.removeFromLeft (8);
        other.setBounds (row.removeFromLeft (other.fittingWidth()));
    }
    listHead = box.removeFromTop (28).toFloat();
    list.setBounds (box.expanded (partEdge - 4, 0));
    changes->refresh (static_cast<float> (list.getWidth() - RowList::barWidth));
    list.refresh();
}

void RecutPart::paintSide (juce::Graphics& g, juce::Rectangle<float> box, const std::string& print, std::int64_t frame,
                           const char* words)
{
    const auto& colours = theme();
    auto foot = box.removeFromBottom (20);
    g.setColour (juce::Colours::black);
    g.fillRect (box);
    const auto* is = printOf (bench.book(), print);
    if (is == nullptr)
        return;
    if (const auto key = bench.files().keyOf (*is, frame))
    {
        const auto image = feed.small (*key);
        if (image.isValid())
        {
            g.setImageResamplingQuality (juce::Graphics::highResamplingQuality);
            g.drawImage (image, box, juce::RectanglePlacement::centred);
        }
    }
    else
        drawLine (g, "no picture", box, font (Face::words, size::small), colours.rose, juce::Justification::centred);
    drawLine (g, words, foot.removeFromLeft (34), font (Face::words, size::small), colours.quiet);
    drawLine (g, text (is->name) + "  " + juce::String (frame), foot, font (Face::numbers, size::small), colours.text,
              juce::Justification::centredRight);
}

void RecutPart::paintPair (juce::Graphics& g)
{
    const auto* match = bench.recut.looked();
    if (match == nullptr)
        return;
    const auto& colours = theme();
    auto box = pairBox;
    drawLine (g, text (doubtText (match->doubt)), box.removeFromTop (26), font (Face::strong, size::usual), colours.text);
    const auto left = bench.recut.pending().size();
    drawLine (g,
              juce::String (left) + (left == 1 ? " decision is open" : " decisions are open") + ".  Sure to "
                  + juce::String (match->sure / 10) + " %.  " + juce::String (match->frames) + " frames"
                  + (bench.recut.moved() == 0 ? juce::String() : ", old held " + juce::String (bench.recut.moved()) + " later"),
              box.removeFromTop (20), font (Face::words, size::small), colours.quiet);
    const auto into = bench.recut.into();
    const float half = (box.getWidth() - 10) / 2;
    const auto oldBox = box.removeFromLeft (half);
    const auto newBox = box.removeFromRight (half);
    paintSide (g, oldBox, match->other, match->otherFirst + into + bench.recut.moved(), "Old");
    paintSide (g, newBox, match->print, match->first + into, "New");
}

void RecutPart::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    const auto small = font (Face::words, size::small);
    if (! bench.hasBook())
        return;
    const auto* match = bench.recut.looked();
    if (match != nullptr)
    {
        std::vector<play::FrameKey> keys;
        const auto into = bench.recut.into();
        for (const auto& [print, frame] : { std::pair (match->other, match->otherFirst + into + bench.recut.moved()),
                                            std::pair (match->print, match->first + into) })
            if (const auto* is = printOf (bench.book(), print))
                if (const auto key = bench.files().keyOf (*is, frame))
                    keys.push_back (*key);
        feed.wantSmall (std::move (keys));
        paintPair (g);
    }
    const auto* carried = bench.recut.carried();
    if (carried == nullptr)
    {
        auto box = list.getBounds().toFloat().reduced (4, 8);
        for (const char* line : { "This is the first edition.", "When the film is cut anew, name the new file above: the old",
                                  "pictures are found in it, and every hit goes with its own." })
            drawLine (g, line, box.removeFromTop (22), font (Face::words, size::usual), colours.quiet);
        return;
    }
    drawLine (g,
              "From edition " + text (carried->before) + " to " + text (carried->after) + ": "
                  + juce::String (bench.recut.changes().size()) + " shots changed",
              listHead, small, colours.quiet);
    if (! carried->conflicts.empty())
        drawLine (g, juce::String (carried->conflicts.size()) + " in conflict", listHead, small, colours.rose,
                  juce::Justification::centredRight);
}
} // namespace shutterbeat::window
