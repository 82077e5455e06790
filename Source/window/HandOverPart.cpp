#include "window/HandOverPart.h"

#include "window/DeliveryMenu.h"
#include "window/PictureFeed.h"

namespace shutterbeat::window
{
namespace
{
constexpr int exportRow = 42;

const desk::Format& formatOf (int row)
{
    return desk::exportFormats()[static_cast<std::size_t> (row)];
}
} // namespace

HandOverPart::HandOverPart (Bench& theBench)
    : bench (theBench)
    , delivered ("handOver.delivered", {}, WordButton::Style::column)
    , files ("handOver.files", "Sheets and files", WordButton::Style::column)
    , forOne ("handOver.parcelOf", "A parcel for one person", WordButton::Style::column)
    , everything ("handOver.all", "Everything", WordButton::Style::column)
    , nothing ("handOver.none", "Nothing", WordButton::Style::column)
    , a4 ("handOver.a4", "A4", WordButton::Style::column)
    , letter ("handOver.letter", "Letter", WordButton::Style::column)
    , list (*this, "handOver.list", "Sheets, lists and files", exportRow)
    , look ("handOver.look", "Look at it", WordButton::Style::raised)
    , back ("handOver.back", {}, WordButton::Style::quiet)
    , on ("handOver.on", {}, WordButton::Style::quiet)
    , away ("handOver.away", "Back to the list", WordButton::Style::raised)
    , folder ("handOver.folder", "Folder for what is made")
    , find ("handOver.choose", "Choose...", WordButton::Style::raised)
    , make ("handOver.make", "Make", WordButton::Style::main)
    , parcel (bench)
{
    setComponentID ("ledger.handOverPart");
    setTitle ("Handing over");
    auto& desk = bench.handOver;
    delivered.setTooltip ("Final rate and fill of what is made");
    delivered.onClick = [this] { chooseDelivery(); };
    files.onClick = [this] { bench.showPage (LedgerPage::handOver); };
    forOne.onClick = [this] { bench.showPage (LedgerPage::parcel); };
    everything.onClick = [&desk] { desk.chooseAll (true); };
    nothing.onClick = [&desk] { desk.chooseAll (false); };
    a4.onClick = [&desk] { desk.setLetter (false); };
    letter.onClick = [&desk] { desk.setLetter (true); };
    look.onClick = [this] { bench.handOver.look (formatOf (at).name); };
    back.setSign (Sign::stepBack);
    back.setTitle ("Page back");
    on.setSign (Sign::stepOn);
    on.setTitle ("Page on");
    back.onClick = [&desk] { desk.turn (-1); };
    on.onClick = [&desk] { desk.turn (1); };
    away.onClick = [&desk] { desk.closePreview(); };
    folder.left = [this] { bench.giveKeysBack(); };
    folder.onTextChange = [this] { bench.handOver.setFolder (folder.getText().trim().toStdString()); };
    folder.entered = [this] { bench.handOver.make(); };
    find.onClick = [this] { choose(); };
    make.setKeyShown ("Ctrl+M");
    make.onClick = [&desk] { desk.make(); };
    for (juce::Component* part :
         std::initializer_list<juce::Component*>{ &delivered, &files, &forOne, &parcel, &everything, &nothing, &a4, &letter, &list,
                                                  &look, &back, &on, &away, &folder, &find, &make })
        addAndMakeVisible (part);
}

int HandOverPart::rowCount() const
{
    return static_cast<int> (desk::exportFormats().size());
}

std::string HandOverPart::rowId (int row) const
{
    return "make-" + formatOf (row).name;
}

juce::String HandOverPart::rowName (int row) const
{
    const auto& format = formatOf (row);
    return text (format.what) + (bench.handOver.wanted (format.name) ? ", wanted" : ", not wanted");
}

bool HandOverPart::rowChosen (int row) const
{
    return row == at;
}

void HandOverPart::rowPressed (int row, const juce::ModifierKeys&)
{
    at = row;
    // The tick is at the left: a press there sets it, elsewhere the line is only chosen.
    if (list.getMouseXYRelative().x < 34)
        return bench.handOver.toggle (formatOf (row).name);
    refresh();
}

void HandOverPart::rowDoublePressed (int row)
{
    formatOf (row).ending == ".pdf" ? bench.handOver.look (formatOf (row).name) : bench.handOver.toggle (formatOf (row).name);
}

void HandOverPart::paintRow (juce::Graphics& g, int row, juce::Rectangle<float> box, bool)
{
    const auto& colours = theme();
    const auto& format = formatOf (row);
    box.reduce (10, 0);
    auto tick = box.removeFromLeft (22).withSizeKeepingCentre (15, 15);
    const bool wanted = bench.handOver.wanted (format.name);
    g.setColour (wanted ? colours.woods : colours.quiet);
    g.drawRoundedRectangle (tick, 3.0f, 1.3f);
    if (wanted)
        g.fillPath (signShape (Sign::tick, tick.reduced (2.5f)));
    box.removeFromLeft (6);
    auto what = text (format.what);
    what = what.substring (0, 1).toUpperCase() + what.substring (1);
    drawLine (g, what, box.removeFromTop (24).translated (0, 2), font (Face::words, size::usual),
              wanted ? colours.text : colours.quiet);
    drawLine (g, text (format.file), box.removeFromTop (14), font (Face::numbers, size::small), colours.quiet);
}

void HandOverPart::choose()
{
    chooseInto (folder, chooser, "Folder for what is made", juce::File (text (bench.handOver.folder())), Choose::folder);
}

/// For what is made here alone: the book keeps its own.
void HandOverPart::chooseDelivery()
{
    if (! bench.hasBook())
        return;
    juce::Component::SafePointer<HandOverPart> self (this);
    openDeliveryMenu (delivered, bench.handOver.delivery(), "As the book: " + deliveryWords (bench.book().delivery),
                      [self] (const DeliveryChoice& choice)
                      {
                          if (self == nullptr)
                              return;
                          auto& desk = self->bench.handOver;
                          auto wanted = desk.delivery();
                          if (choice.rate)
                              wanted = { *choice.rate, film::usualFill (*choice.rate) };
                          else if (choice.fill)
                              wanted.from = *choice.fill;
                          desk.setDelivery (choice.asTheBook ? std::nullopt : std::optional (wanted));
                      });
}

void HandOverPart::refresh()
{
    const auto& desk = bench.handOver;
    delivered.setWords (deliveryWords (desk.delivery()) + (desk.asTheBook() ? "" : " *"));
    const bool packing = bench.page == LedgerPage::parcel;
    files.setToggleState (! packing, juce::dontSendNotification);
    forOne.setToggleState (packing, juce::dontSendNotification);
    parcel.setVisible (packing);
    for (juce::Component* part : std::initializer_list<juce::Component*>{ &a4, &letter, &folder, &find, &make })
        part->setVisible (! packing);
    if (packing)
    {
        for (juce::Component* part :
             std::initializer_list<juce::Component*>{ &everything, &nothing, &list, &look, &back, &on, &away })
            part->setVisible (false);
        page = {}, pageOf = nullptr;
        resized();
        parcel.refresh();
        return repaint();
    }
    a4.setToggleState (! desk.letter(), juce::dontSendNotification);
    letter.setToggleState (desk.letter(), juce::dontSendNotification);
    make.setWords ("Make these " + juce::String (desk.count()));
    make.setEnabled (desk.count() > 0 && ! bench.job);
    const auto* preview = desk.preview();
    const bool pages = preview != nullptr && ! preview->pages.empty();
    for (auto* button : { &back, &on, &away })
        button->setVisible (pages);
    list.setVisible (! pages);
    look.setVisible (! pages);
    everything.setVisible (! pages);
    nothing.setVisible (! pages);
    look.setEnabled (! bench.job && formatOf (at).ending == ".pdf");
    if (! folder.hasKeyboardFocus (true))
        folder.setText (text (desk.folder()), false);
    folder.dress();
    if (pages)
    {
        const auto& shown = preview->pages[static_cast<std::size_t> (desk.page())];
        if (pageOf != &shown || pageMade != desk.page())
            page = imageOf (shown);
        pageOf = &shown;
        pageMade = desk.page();
        back.setEnabled (desk.page() > 0);
        on.setEnabled (desk.page() + 1 < static_cast<int> (preview->pages.size()));
    }
    else
        page = {}, pageOf = nullptr;
    resized();
    list.refresh();
    repaint();
}

void HandOverPart::resized()
{
    auto box = getLocalBounds().reduced (partEdge, 0);
    auto which = box.removeFromTop (28);
    which.setX (which.getX() - 8);
    files.setBounds (which.removeFromLeft (files.fittingWidth()));
    forOne.setBounds (which.removeFromLeft (forOne.fittingWidth()));
    delivered.setBounds (which.removeFromRight (std::min (which.getWidth(), delivered.fittingWidth())));
    parcel.setBounds (getLocalBounds().withTrimmedTop (32));
    auto head = box.removeFromTop (30);
    letter.setBounds (head.removeFromRight (letter.fittingWidth()));
    a4.setBounds (head.removeFromRight (a4.fittingWidth()));
    if (page.isValid())
    {
        away.setBounds (head.removeFromLeft (away.fittingWidth()).reduced (0, 1));
        head.removeFromLeft (6);
        back.setBounds (head.removeFromLeft (30));
        on.setBounds (head.removeFromLeft (30));
    }
    else
    {
        head.setX (head.getX() - 8);
        everything.setBounds (head.removeFromLeft (everything.fittingWidth()));
        nothing.setBounds (head.removeFromLeft (nothing.fittingWidth()));
    }
    auto foot = box.removeFromBottom (46).reduced (0, 6);
    make.setBounds (foot.removeFromLeft (make.fittingWidth()));
    foot.removeFromLeft (8);
    look.setBounds (foot.removeFromLeft (look.fittingWidth()));
    foot = box.removeFromBottom (38).reduced (0, 2);
    find.setBounds (foot.removeFromRight (find.fittingWidth()));
    foot.removeFromRight (6);
    folder.setBounds (foot);
    pageBox = box.reduced (0, 6).toFloat();
    list.setBounds (box.expanded (partEdge - 4, 0));
}

void HandOverPart::paint (juce::Graphics& g)
{
    if (! page.isValid())
        return;
    const auto* preview = bench.handOver.preview();
    auto box = pageBox;
    const auto foot = box.removeFromBottom (20);
    g.setImageResamplingQuality (juce::Graphics::highResamplingQuality);
    g.drawImage (page, box, juce::RectanglePlacement::centred);
    drawLine (g, "Page " + juce::String (bench.handOver.page() + 1) + " of " + juce::String (preview->count), foot,
              font (Face::words, size::small), theme().quiet, juce::Justification::centred);
}
} // namespace shutterbeat::window
