#include "window/PrintsPart.h"

#include "desk/Prints.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::window
{
namespace
{
constexpr int printRow = 54;
}

PrintsPart::PrintsPart (Bench& theBench)
    : bench (theBench)
    , list (*this, "prints.list", "Prints and reels", printRow)
    , name ("prints.name", "Name of another print")
    , path ("prints.path", "Its film file")
    , choose ("prints.choose", "Choose...", WordButton::Style::raised)
    , adds ("prints.add", "Add this print", WordButton::Style::raised)
    , find ("prints.find", "Find what is missing", WordButton::Style::main)
{
    setComponentID ("ledger.printsPart");
    setTitle ("Prints and reels");
    name.setTextToShowWhenEmpty ("Name, such as: Lisbon print", theme().quiet);
    path.setTextToShowWhenEmpty ("Path of its film file", theme().quiet);
    const auto giveBack = [this] { bench.giveKeysBack(); };
    name.left = path.left = name.entered = giveBack;
    path.entered = [this] { add(); };
    adds.onClick = [this] { add(); };
    find.setKeyShown ("Ctrl+F");
    find.onClick = [this] { bench.showPanel (Panel::findFilm); };
    choose.onClick = [this]
    { chooseInto (path, chooser, "Film file of another print", juce::File::getSpecialLocation (juce::File::userHomeDirectory)); };
    for (juce::Component* part : std::initializer_list<juce::Component*>{ &list, &name, &path, &choose, &adds, &find })
        addAndMakeVisible (part);
}

void PrintsPart::add()
{
    const auto named = name.getText().trim().toStdString(), file = path.getText().trim().toStdString();
    if (named.empty() || file.empty() || bench.times() == nullptr)
        return bench.complain ("Give the other print a name, and name its film file.");
    const auto gauge = bench.book().prints.empty() ? time::Gauge() : bench.book().prints[0].gauge;
    bench.startJob<desk::ChangedPrints> (
        "Looking through " + std::filesystem::path (file).filename().string(),
        [open = bench.opened(), named, file, gauge] (const desk::Progress& progress)
        { return desk::addPrint (open, named, { file }, gauge, progress); },
        [this] (desk::ChangedPrints made)
        {
            // Hits may have been placed meanwhile: only the print is taken over.
            auto book = bench.book();
            auto prints = book.prints.list();
            for (const auto& print : made.book.prints)
                if (print.id == made.print)
                    prints.push_back (print);
            book.prints = std::move (prints);
            bench.take ("add print", std::move (book));
            std::string said = "The print is in the book. What it has that the edition has not is shown by a recut, or by compare.";
            for (const auto& note : made.notes)
                said += " " + note + (note.empty() || note.back() == '.' ? "" : ".");
            bench.say (said);
            name.setText ({}, false);
            path.setText ({}, false);
        },
        "Stopped. The print was not added.");
}

bool PrintsPart::gone (const Reel& reel) const
{
    const auto& missing = bench.missing();
    return std::any_of (missing.begin(), missing.end(),
                        [&] (const desk::MissingFilm& film)
                        { return film.print == bench.book().prints[reel.print].id && film.reel == reel.reel; });
}

std::string PrintsPart::rowId (int row) const
{
    const auto& is = reels[static_cast<std::size_t> (row)];
    return "print-" + std::to_string (is.print + 1) + "-" + std::to_string (is.reel + 1);
}

juce::String PrintsPart::rowName (int row) const
{
    const auto& is = reels[static_cast<std::size_t> (row)];
    const auto& print = bench.book().prints[is.print];
    return text (print.name.empty() ? print.id : print.name) + ", reel " + juce::String (is.reel + 1) + ", "
           + text (print.reels[is.reel].path) + (gone (is) ? ", missing" : "");
}

void PrintsPart::rowPressed (int row, const juce::ModifierKeys&)
{
    if (gone (reels[static_cast<std::size_t> (row)]))
        bench.showPanel (Panel::findFilm);
}

void PrintsPart::paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool)
{
    const auto& colours = theme();
    const auto& is = reels[static_cast<std::size_t> (row)];
    const auto& print = bench.book().prints[is.print];
    const auto& reel = print.reels[is.reel];
    const bool lost = gone (is);
    box.reduce (12, 4);
    auto top = box.removeFromTop (23);
    auto words = text (print.name.empty() ? print.id : print.name);
    if (print.reels.size() > 1)
        words += ", reel " + juce::String (is.reel + 1);
    drawLine (g, lost ? juce::String ("missing") : juce::String (reel.cadence.filmFrames()) + " film frames",
              top.removeFromRight (126), font (lost ? Face::words : Face::numbers, size::small),
              lost ? colours.rose : colours.quiet, juce::Justification::centredRight);
    drawLine (g, words, top, font (Face::words, size::usual), colours.text);
    auto said = text (std::filesystem::path (reel.path).filename().string());
    if (! reel.workingCopy.empty())
        said += ", working copy " + text (std::filesystem::path (reel.workingCopy).filename().string());
    if (! reel.cadenceSaid.empty())
        said += ", " + text (reel.cadenceSaid);
    drawLine (g, said, box, font (Face::words, size::small), colours.quiet);
}

void PrintsPart::refresh()
{
    reels.clear();
    if (bench.hasBook())
        for (std::size_t p = 0; p < bench.book().prints.size(); ++p)
            for (std::size_t r = 0; r < bench.book().prints[p].reels.size(); ++r)
                reels.push_back ({ p, r });
    find.setVisible (! bench.missing().empty());
    adds.setEnabled (! bench.job);
    name.dress();
    path.dress();
    resized();
    list.refresh();
    repaint();
}

void PrintsPart::resized()
{
    auto box = getLocalBounds().reduced (partEdge, 0);
    auto foot = box.removeFromBottom (42).reduced (0, 4);
    adds.setBounds (foot.removeFromLeft (adds.fittingWidth()));
    foot.removeFromLeft (8);
    find.setBounds (foot.removeFromLeft (find.fittingWidth()));
    foot = box.removeFromBottom (36).reduced (0, 2);
    choose.setBounds (foot.removeFromRight (choose.fittingWidth()));
    foot.removeFromRight (6);
    path.setBounds (foot);
    name.setBounds (box.removeFromBottom (36).reduced (0, 2));
    addLine = box.removeFromBottom (22).toFloat();
    list.setBounds (box.expanded (partEdge - 4, 0));
}

void PrintsPart::paint (juce::Graphics& g)
{
    drawLine (g, "Another print of the same film", addLine, font (Face::words, size::small), theme().quiet);
}
} // namespace shutterbeat::window
