#include "window/ParcelPart.h"

namespace shutterbeat::window
{
namespace
{
constexpr int parcelRow = 32;

juce::String ticked (bool on, const char* words)
{
    return juce::String::fromUTF8 (on ? "\xe2\x9c\x93 " : "\xe2\x80\x93 ") + words;
}
} // namespace

ParcelPart::ParcelPart (Bench& theBench)
    : bench (theBench)
    , person ("parcel.person", "For whom: a short word")
    , movie ("parcel.movie", {}, WordButton::Style::raised)
    , pop ("parcel.pop", {}, WordButton::Style::raised)
    , zip ("parcel.zip", {}, WordButton::Style::raised)
    , path ("parcel.path", "Folder or zip that is made")
    , pack ("parcel.pack", "Pack the parcel", WordButton::Style::main)
{
    setComponentID ("ledger.parcelPart");
    setTitle ("Parcel for one person");
    auto& desk = bench.parcels;
    movie.setTooltip ("Reference movie and web page");
    pop.setTooltip ("A frame of tone and light two seconds before the picture and after it");
    zip.setTooltip ("One zip file, else a folder");
    movie.onClick = [&desk] { desk.setMovie (! desk.movie()); };
    pop.onClick = [&desk] { desk.setPop (! desk.pop()); };
    zip.onClick = [&desk] { desk.setZip (! desk.zip()); };
    pack.setKeyShown ("Ctrl+Shift+M");
    pack.onClick = [&desk] { desk.make(); };
    const auto giveBack = [this] { bench.giveKeysBack(); };
    person.entered = person.left = giveBack;
    person.onTextChange = [this] { bench.parcels.setPerson (person.getText().trim().toStdString()); };
    path.left = giveBack;
    path.entered = [this] { bench.parcels.make(); };
    path.onTextChange = [this] { bench.parcels.setPath (path.getText().trim().toStdString()); };
    for (juce::Component* part : std::initializer_list<juce::Component*>{ &person, &movie, &pop, &zip, &path, &pack })
        addAndMakeVisible (part);
}

void ParcelPart::refresh()
{
    auto& desk = bench.parcels;
    const auto ids = desk.people();
    if (ids.size() != people.size())
        people.clear();
    for (std::size_t i = people.size(); i < ids.size(); ++i)
    {
        auto button = std::make_unique<WordButton> ("parcel.for." + text (ids[i]), text (ids[i]), WordButton::Style::column);
        button->onClick = [this, id = ids[i]] { bench.parcels.setPerson (id); };
        addAndMakeVisible (*button);
        people.push_back (std::move (button));
    }
    for (std::size_t i = 0; i < ids.size(); ++i)
    {
        people[i]->setWords (text (ids[i]));
        people[i]->setToggleState (ids[i] == desk.person(), juce::dontSendNotification);
    }
    if (! person.hasKeyboardFocus (true))
        person.setText (text (desk.person()), false);
    if (! path.hasKeyboardFocus (true))
        path.setText (text (desk.path()), false);
    person.dress();
    path.dress();
    movie.setWords (ticked (desk.movie(), "Movie and page"));
    pop.setWords (ticked (desk.pop(), "Pops"));
    zip.setWords (ticked (desk.zip(), "One zip"));
    pack.setEnabled (! bench.job);
    news = desk.news();
    sent = desk.sent();
    resized();
    repaint();
}

void ParcelPart::resized()
{
    auto box = getLocalBounds().reduced (partEdge, 4);
    const auto line = [&] (int height, int gap = 6)
    {
        auto row = box.removeFromTop (height);
        box.removeFromTop (gap);
        return row;
    };
    whomLine = line (18, 2).toFloat();
    auto row = line (28);
    row.setX (row.getX() - 8);
    for (const auto& one : people)
        one->setBounds (row.removeFromLeft (std::min (row.getWidth(), one->fittingWidth())));
    person.setBounds (line (parcelRow, 12));
    whatLine = line (18, 2).toFloat();
    row = line (30, 12);
    for (auto* one : { &movie, &pop, &zip })
    {
        one->setBounds (row.removeFromLeft (one->fittingWidth()));
        row.removeFromLeft (6);
    }
    whereLine = line (18, 2).toFloat();
    path.setBounds (line (parcelRow, 12));
    pack.setBounds (line (34, 14).removeFromLeft (pack.fittingWidth()));
    newsBox = box.toFloat();
}

void ParcelPart::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    const auto small = font (Face::words, size::small), usual = font (Face::words, size::usual);
    drawLine (g, "For whom", whomLine, small, colours.quiet);
    drawLine (g, "With notes, cue list, MIDI, MusicXML, clicks and lists go", whatLine, small, colours.quiet);
    drawLine (g, "Packed into", whereLine, small, colours.quiet);
    auto box = newsBox;
    if (box.getHeight() < 44)
        return;
    drawLine (g, "New since their last parcel", box.removeFromTop (24), font (Face::strong, size::usual), colours.text);
    for (std::size_t i = 0; i < news.size() && box.getHeight() > 20; ++i)
    {
        const bool room = box.getHeight() >= 40 || i + 1 == news.size();
        drawLine (g, room ? text (news[i]) : "and " + juce::String (static_cast<int> (news.size() - i)) + " more",
                  box.removeFromTop (20), usual, colours.quiet);
        if (! room)
            break;
    }
    if (sent.empty() || box.getHeight() < 60)
        return;
    box.removeFromTop (12);
    drawLine (g, "Sent so far", box.removeFromTop (24), font (Face::strong, size::usual), colours.text);
    for (auto parcel = sent.rbegin(); parcel != sent.rend() && box.getHeight() > 20; ++parcel)
        drawLine (g,
                  text (parcel->person + " " + std::to_string (parcel->number) + "   " + parcel->stamped + "   edition "
                        + parcel->sent.edition + ", " + time::rateName (parcel->sent.delivery.rate)),
                  box.removeFromTop (20), font (Face::numbers, size::small), colours.quiet);
}
} // namespace shutterbeat::window
