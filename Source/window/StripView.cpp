#include "window/StripView.h"

#include "play/Reels.h"
#include "window/Controls.h"

#include <cmath>

namespace shutterbeat::window
{
namespace
{
constexpr float stockEdge = 18.0f;  // of the stock, with its perforations
constexpr float frameLine = 3.0f;   // between two pictures
constexpr float shotHeight = 44.0f; // of a whole shot's row
constexpr float rowGap = 10.0f;     // between stock and rows

film::Position middleOf (const film::Timings& timings, std::size_t shot)
{
    const auto head = timings.shotHead (shot);
    const auto& is = timings.edition().shots[shot];
    if (is.made)
        return head;
    const auto at = timings.atFilmFrame (head.filmFrame + is.frames() / 2, head.reel);
    return at ? *at : head;
}
} // namespace

StripView::StripView (Bench& theBench, PictureFeed& theFeed)
    : bench (theBench)
    , feed (theFeed)
{
    setComponentID ("strip");
    setTitle ("Film strip");
    setMouseClickGrabsKeyboardFocus (false);
    setOpaque (true);
}

float StripView::frameHeight() const
{
    return std::floor ((static_cast<float> (getWidth()) - 2 * stockEdge) * 0.75f);
}

int StripView::framesEachSide() const
{
    // About two thirds of the strip are single frames.
    const float room = static_cast<float> (getHeight()) * 0.66f;
    return juce::jlimit (1, 4, static_cast<int> ((room / (frameHeight() + frameLine) - 1) / 2));
}

juce::Rectangle<float> StripView::gate() const
{
    return getLocalBounds()
        .toFloat()
        .reduced (stockEdge, 0)
        .withSizeKeepingCentre (static_cast<float> (getWidth()) - 2 * stockEdge, frameHeight());
}

std::vector<StripView::Cell> StripView::cells() const
{
    std::vector<Cell> all;
    const auto* times = bench.times();
    if (times == nullptr || getHeight() < 100)
        return all;
    const auto& timings = times->timings;
    const auto now = bench.shown();
    const auto inGate = gate();
    const int each = framesEachSide();
    for (int i = -each; i <= each; ++i)
    {
        const auto at = i == 0 ? now : play::stepped (timings, now, i);
        // stepped() stops at the ends of the film: a picture that comes twice is there only once.
        const auto further = play::stepped (timings, now, i < 0 ? i + 1 : i - 1);
        const bool there = i == 0 || (i < 0 ? play::comesBefore (at, further) : play::comesBefore (further, at));
        if (there)
            all.push_back ({ at, inGate.translated (0, static_cast<float> (i) * (inGate.getHeight() + frameLine)), false, i,
                             at.where != film::Position::Where::picture || at.frameInShot == 0 });
    }
    // Whole shots in what is left above and below.
    const float left = 6.0f, width = static_cast<float> (getWidth()) - 12.0f;
    const film::Position top = all.front().at, bottom = all.back().at;
    const float below = all.back().box.getBottom() + rowGap + stockEdge * 0.5f;
    float y = all.front().box.getY() - rowGap - stockEdge * 0.5f;
    for (std::size_t shot = top.shot; shot > 0 && y - shotHeight >= 0; y -= shotHeight)
        all.push_back ({ middleOf (timings, --shot), { left, y - shotHeight, width, shotHeight }, true, -1, false });
    y = below;
    for (std::size_t shot = bottom.shot + 1;
         shot < timings.edition().shots.size() && y + shotHeight <= static_cast<float> (getHeight()); ++shot, y += shotHeight)
        all.push_back ({ middleOf (timings, shot), { left, y, width, shotHeight }, true, 1, false });
    return all;
}

void StripView::refresh()
{
    repaint();
}

void StripView::paintPicture (juce::Graphics& g, const film::Position& at, juce::Rectangle<float> box, float alpha)
{
    const auto& timings = bench.times()->timings;
    const auto& shot = timings.edition().shots[at.shot];
    g.setColour (juce::Colours::black);
    g.fillRect (box);
    const auto key = bench.files().keyAt (timings, at);
    const auto image = key ? feed.small (*key) : juce::Image();
    const juce::Graphics::ScopedSaveState saved (g);
    if (image.isValid())
    {
        g.setOpacity (alpha);
        g.setImageResamplingQuality (juce::Graphics::mediumResamplingQuality);
        g.drawImage (image, box, juce::RectanglePlacement::centred | juce::RectanglePlacement::fillDestination);
    }
    else if (shot.kind == film::ShotKind::card)
    {
        g.setColour (dimRoom().text.withAlpha (alpha * 0.7f));
        g.setFont (font (Face::card, box.getHeight() / 5));
        g.drawFittedText (text (shot.wording.empty() ? "card" : shot.wording), box.reduced (4.0f).toNearestInt(),
                          juce::Justification::centred, 3);
    }
    else
    {
        g.setColour (dimRoom().raised.withAlpha (0.6f));
        g.fillRect (box);
    }
}

void StripView::paintFrame (juce::Graphics& g, const Cell& cell)
{
    const bool inGate = cell.fromGate == 0;
    const float alpha = inGate ? 1.0f : juce::jmax (0.35f, 0.72f - 0.14f * static_cast<float> (std::abs (cell.fromGate)));
    paintPicture (g, cell.at, cell.box, alpha);
    // Four perforations a frame on either side.
    g.setColour (theme().ground.interpolatedWith (theme().quiet, 0.28f));
    for (int i = 0; i < 4; ++i)
    {
        const float y = cell.box.getY() + cell.box.getHeight() * (0.125f + 0.25f * static_cast<float> (i)) - 4.0f;
        g.fillRoundedRectangle (cell.box.getX() - stockEdge + 5.0f, y, 8.0f, 8.0f, 2.0f);
        g.fillRoundedRectangle (cell.box.getRight() + stockEdge - 13.0f, y, 8.0f, 8.0f, 2.0f);
    }
    if (cell.cutAbove)
    {
        // A cut: the frame line is notched across the whole stock.
        g.setColour (dimRoom().lamp); // the stock is dark in both lights
        const float y = cell.box.getY() - frameLine * 0.5f;
        g.fillRect (cell.box.getX() - stockEdge, y - 0.75f, cell.box.getWidth() + 2 * stockEdge, 1.5f);
        juce::Path notch;
        notch.addTriangle (cell.box.getX() - stockEdge, y - 5, cell.box.getX() - stockEdge, y + 5, cell.box.getX() - stockEdge + 6,
                           y);
        g.fillPath (notch);
    }
}

void StripView::paintShot (juce::Graphics& g, const Cell& cell)
{
    const auto& timings = bench.times()->timings;
    const auto& shot = timings.edition().shots[cell.at.shot];
    auto row = cell.box.reduced (0, 3.0f);
    auto picture = row.removeFromLeft (std::floor (row.getHeight() * 4.0f / 3.0f));
    paintPicture (g, cell.at, picture, 0.75f);
    row.removeFromLeft (8.0f);
    const bool card = shot.kind == film::ShotKind::card;
    const auto length = shot.made ? juce::String ("made") : juce::String (shot.frames()) + " fr";
    auto head = row.removeFromTop (18.0f);
    if (card && ! shot.wording.empty())
    {
        return drawLines (g, text (shot.wording), row.withTop (head.getY()), font (Face::card, size::usual * 0.85f), theme().text);
    }
    drawLine (g,
              (card                                 ? "Card "
               : shot.kind == film::ShotKind::black ? "Black "
                                                    : "Shot ")
                  + text (shot.name),
              head, font (card ? Face::card : Face::words, card ? size::usual : size::small), theme().text);
    drawLine (g, length, row.removeFromTop (16.0f), font (Face::numbers, size::small), theme().quiet);
}

void StripView::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    g.fillAll (colours.panel);
    const auto all = cells();
    if (all.empty())
        return;
    juce::Rectangle<float> stock;
    for (const auto& cell : all)
        if (! cell.whole)
            stock = stock.isEmpty() ? cell.box : stock.getUnion (cell.box);
    stock = stock.expanded (stockEdge, stockEdge * 0.5f);
    g.setColour (colours.stock);
    g.fillRect (stock);
    for (const auto& cell : all)
        cell.whole ? paintShot (g, cell) : paintFrame (g, cell);
    // The gate: an aperture plate in lamplight, open towards the picture.
    const auto inGate = gate().expanded (3.0f);
    g.setColour (dimRoom().lamp);
    g.drawRoundedRectangle (inGate, 4.0f, 2.0f);
    juce::Path claw;
    const float right = static_cast<float> (getWidth());
    claw.addTriangle (inGate.getRight() + 1, inGate.getCentreY() - 6, inGate.getRight() + 1, inGate.getCentreY() + 6,
                      juce::jmin (right, inGate.getRight() + 10), inGate.getCentreY());
    g.fillPath (claw);
}

void StripView::mouseDown (const juce::MouseEvent& event)
{
    for (const auto& cell : cells())
        if (cell.box.contains (event.position))
        {
            if (cell.whole)
                return bench.goTo (bench.times()->timings.shotHead (cell.at.shot));
            if (cell.fromGate != 0)
                return bench.step (cell.fromGate);
        }
}

void StripView::mouseWheelMove (const juce::MouseEvent&, const juce::MouseWheelDetails& wheel)
{
    if (bench.times() == nullptr)
        return;
    constexpr float turnForFrame = 0.08f;
    wheelLeft -= wheel.deltaY;
    const int frames = static_cast<int> (wheelLeft / turnForFrame);
    wheelLeft -= static_cast<float> (frames) * turnForFrame;
    if (frames != 0)
        bench.step (frames);
}
} // namespace shutterbeat::window
