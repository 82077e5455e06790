#include "window/PictureView.h"

#include "window/Controls.h"

#include <algorithm>

namespace shutterbeat::window
{
PictureView::PictureView (Bench& theBench, PictureFeed& theFeed, Role theRole)
    : bench (theBench)
    , feed (theFeed)
    , role (theRole)
    , over (theBench)
{
    setComponentID (role == Role::first ? "picture" : "picture.second");
    setTitle ("Picture");
    setMouseClickGrabsKeyboardFocus (false);
    setOpaque (true);
}

void PictureView::refresh()
{
    if (const auto* times = bench.times(); times != nullptr && getWidth() > 0 && role == Role::first)
    {
        constexpr int readAhead = 24, stripFrames = 4;
        const int direction = bench.transport.direction();
        auto keys = play::wantedKeys (bench.files(), times->timings, bench.shown(), direction, readAhead);
        // The strip shows the pictures just passed as well: after the nearest few to come.
        const auto passed = play::wantedKeys (bench.files(), times->timings, bench.shown(), -direction, stripFrames);
        if (! passed.empty())
            keys.insert (keys.begin() + static_cast<std::ptrdiff_t> (std::min<std::size_t> (keys.size(), stripFrames + 1)),
                         passed.begin() + 1, passed.end());
        const auto mine = pixelsCovered();
        feed.wantLarge (std::move (keys), std::max (alsoWidth, mine.x), std::max (alsoHeight, mine.y));
        const auto key = bench.files().keyAt (times->timings, bench.shown());
        isLate = key && ! feed.large (*key).isValid() && feed.failure (*key).empty();
    }
    repaint();
}

juce::Point<int> PictureView::pixelsCovered() const
{
    return { juce::roundToInt (static_cast<float> (getWidth()) * pixels()),
             juce::roundToInt (static_cast<float> (getHeight()) * pixels()) };
}

/// Pixels of the screen for one of this view's.
float PictureView::pixels() const
{
    return static_cast<float> (juce::Component::getApproximateScaleFactorForComponent (this))
           * juce::Desktop::getInstance().getGlobalScaleFactor();
}

void PictureView::paintOver (juce::Graphics& g, juce::Rectangle<float> on)
{
    over.draw (g, getLocalBounds(), on, pixels());
}

juce::Rectangle<float> PictureView::fitted (int width, int height) const
{
    return juce::RectanglePlacement (juce::RectanglePlacement::centred)
        .appliedTo (juce::Rectangle<int> (width, height).toFloat(), getLocalBounds().toFloat());
}

void PictureView::paintCard (juce::Graphics& g, const film::Shot& shot)
{
    const auto box = fitted (4, 3);
    g.setColour (juce::Colours::black);
    g.fillRect (box);
    if (shot.kind == film::ShotKind::black)
        return;
    g.setColour (dimRoom().text);
    g.setFont (font (Face::card, box.getHeight() / 12.0f));
    g.drawFittedText (text (shot.wording.empty() ? "made card " + shot.name : shot.wording),
                      box.reduced (box.getWidth() * 0.1f).toNearestInt(), juce::Justification::centred, 6);
}

void PictureView::paint (juce::Graphics& g)
{
    g.fillAll (bench.wholePicture || role == Role::second ? juce::Colours::black : theme().ground);
    const auto* times = bench.times();
    if (times == nullptr)
        return;
    const auto at = bench.shown();
    const auto& shot = times->timings.edition().shots[at.shot];
    if (at.where == film::Position::Where::made)
    {
        if (role == Role::first)
            bench.paintedNow();
        paintCard (g, shot);
        return paintOver (g, fitted (4, 3));
    }
    const auto key = bench.files().keyAt (times->timings, at);
    if (! key)
    {
        const auto box = fitted (4, 3);
        g.setColour (theme().panel);
        g.fillRoundedRectangle (box, 4.0f);
        auto lines = box.withSizeKeepingCentre (box.getWidth() * 0.8f, 72.0f);
        drawLine (g, "The film is not where the book says", lines.removeFromTop (30.0f), font (Face::strong, size::large),
                  theme().text, juce::Justification::centred);
        if (! bench.missing().empty())
            drawLine (g, text (bench.missing().front().path), lines.removeFromTop (20.0f), font (Face::words, size::small),
                      theme().quiet, juce::Justification::centred);
        drawLine (g, "Hits, cues and times can still be worked on. Ctrl+F finds the film.", lines, font (Face::words, size::usual),
                  theme().quiet, juce::Justification::centred);
        return;
    }
    if (auto image = feed.large (*key); image.isValid())
    {
        held = image;
        if (! bench.drag && role == Role::first)
            bench.paintedNow();
    }
    if (held.isValid())
    {
        g.setImageResamplingQuality (juce::Graphics::mediumResamplingQuality);
        const auto on = fitted (held.getWidth(), held.getHeight());
        g.drawImage (held, on, juce::RectanglePlacement::stretchToFit);
        paintOver (g, on);
    }
    const auto against = feed.failure (*key);
    if (! against.empty() || feed.damaged (*key))
    {
        auto strip = getLocalBounds().toFloat().removeFromBottom (30.0f);
        g.setColour (theme().panel.withAlpha (0.9f));
        g.fillRect (strip);
        drawLine (g, against.empty() ? juce::String ("This picture is damaged in the file.") : text (against),
                  strip.reduced (12.0f, 0), font (Face::words, size::usual), theme().rose);
    }
}
} // namespace shutterbeat::window
