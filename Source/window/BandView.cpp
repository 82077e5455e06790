#include "window/BandView.h"

#include "play/Reels.h"
#include "window/BandLayout.h"
#include "window/Controls.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::window
{
BandView::BandView (Bench& theBench, PictureFeed& theFeed)
    : bench (theBench)
    , feed (theFeed)
{
    setComponentID ("band");
    setTitle ("Band: the film in time");
    setMouseClickGrabsKeyboardFocus (false);
    setOpaque (true);
}

double BandView::whole() const
{
    const auto* times = bench.times();
    return times == nullptr ? 1.0
                            : static_cast<double> (
                                std::max<std::int64_t> (1, play::deliveredBefore (times->timings, times->timings.reelCount())));
}

float BandView::xOf (double delivered) const
{
    return band::margin
           + static_cast<float> ((delivered - from) / span()
                                 * static_cast<double> (static_cast<float> (getWidth()) - 2 * band::margin));
}

film::Position BandView::positionAt (float x) const
{
    const auto& timings = bench.times()->timings;
    const double width = std::max (1.0, static_cast<double> (static_cast<float> (getWidth()) - 2 * band::margin));
    const double delivered = from + static_cast<double> (x - band::margin) / width * span();
    const auto spot = play::reelSpotOf (timings, static_cast<std::int64_t> (std::floor (std::clamp (delivered, 0.0, whole() - 1))));
    const auto at = timings.atDelivered (spot.delivered, spot.reel);
    return at ? *at : timings.shotHead (0);
}

double BandView::deliveredOf (const film::PlaceTimes& at) const
{
    return static_cast<double> (play::deliveredBefore (bench.times()->timings, at.reel) + at.delivered);
}

void BandView::keepInView (double delivered)
{
    if (delivered < from + span() * 0.04 || delivered > from + span() * 0.9)
        from = delivered - span() * 0.12;
    from = std::clamp (from, 0.0, std::max (0.0, whole() - span()));
}

void BandView::refresh()
{
    if (bench.times() == nullptr)
    {
        hits.clear();
        sounds.clear();
        return repaint();
    }
    if (bench.bandZoom != zoomSeen)
    {
        // Zooming from the keys keeps the picture on screen where it is.
        const double now = static_cast<double> (bench.transport.deliveredInAll());
        const double share = std::clamp ((now - from) / (whole() / zoomSeen), 0.0, 1.0);
        zoomSeen = bench.bandZoom;
        from = now - share * span();
    }
    from = std::clamp (from, 0.0, std::max (0.0, whole() - span()));
    hits = placedHits();
    bench.outlines.refresh();
    sounds = placedSounds();
    const auto& timings = bench.times()->timings;
    shotStarts.clear();
    for (std::size_t i = 0; i < timings.edition().shots.size(); ++i)
        shotStarts.push_back (static_cast<double> (play::deliveredInAll (timings, timings.shotHead (i))));
    shotStarts.push_back (whole());
    repaint();
}

void BandView::moved()
{
    if (bench.times() == nullptr)
        return;
    const double now = static_cast<double> (bench.transport.deliveredInAll());
    const double before = from;
    if (! scrubbing && ! bench.drag)
        keepInView (now);
    if (std::abs (from - before) > 1e-9)
        return refresh();
    const float x = xOf (now);
    if (std::abs (x - lastNow) < 0.25f)
        return;
    for (const float at : { x, lastNow })
        repaint (static_cast<int> (at) - 9, 0, 18, getHeight());
}

std::vector<BandView::PlacedHit> BandView::placedHits() const
{
    std::vector<PlacedHit> placed;
    const auto& rows = bench.times()->hits;
    std::vector<std::size_t> lastAt (band::levels, 0); // one more than the placed hit last put on a level
    for (std::size_t i = 0; i < rows.size(); ++i)
    {
        if (! rows[i].at)
            continue;
        const float x = xOf (deliveredOf (*rows[i].at));
        if (x < -band::mark || x > static_cast<float> (getWidth()) + band::mark)
            continue;
        std::size_t level = 0;
        while (level < band::levels && lastAt[level] > 0 && placed[lastAt[level] - 1].mark.getCentreX() + band::mark + 2 > x)
            ++level;
        if (level == band::levels)
        {
            // No room: counted on the nearest one that has it, so that none is hidden unsaid.
            ++placed[lastAt[band::levels - 1] - 1].hidden;
            continue;
        }
        const float y = band::hitsTop + band::levelHeight * static_cast<float> (level) + 6.0f;
        placed.push_back ({ i, { x - band::mark * 0.5f, y, band::mark, band::mark }, 0 });
        lastAt[level] = placed.size();
    }
    return placed;
}

juce::Rectangle<float> BandView::markOf (const std::string& hit) const
{
    for (const auto& placed : hits)
        if (bench.times()->hits[placed.row].hit.id == hit)
            return placed.mark;
    return {};
}

juce::Rectangle<float> BandView::loopBox() const
{
    const auto& loop = bench.transport.loop();
    if (bench.times() == nullptr || ! loop)
        return {};
    const auto& timings = bench.times()->timings;
    const auto at = [&] (const film::Position& position) {
        return position.where == film::Position::Where::end ? whole()
                                                            : static_cast<double> (play::deliveredInAll (timings, position));
    };
    const float left = xOf (at (loop->in)), right = xOf (at (loop->out));
    return { left, band::rulerTop, std::max (2.0f, right - left), static_cast<float> (getHeight()) - band::rulerTop - 6 };
}

// ---- The mouse

void BandView::mouseDown (const juce::MouseEvent& event)
{
    pressed.clear();
    scrubbing = scrolling = false;
    if (bench.times() == nullptr)
        return;
    if (event.position.y < band::rulerTop && bench.bandZoom > 1)
    {
        scrolling = true;
        return scrollTo (event.position.x);
    }
    for (auto placed = hits.rbegin(); placed != hits.rend(); ++placed)
        if (placed->mark.expanded (3.0f).contains (event.position))
        {
            const auto& row = bench.times()->hits[placed->row];
            pressed = row.hit.id;
            grabOffset = event.position.x - placed->mark.getCentreX();
            const std::string id = pressed;
            if (event.mods.isCommandDown() || event.mods.isShiftDown())
                bench.toggleSelected (id);
            else if (! bench.isSelected (id))
                bench.select ({ id });
            if (const auto at = bench.times()->timings.find (row.hit.place); at && ! bench.transport.playing())
                bench.goTo (*at);
            return;
        }
    for (const auto& sound : sounds)
        if (sound.box.contains (event.position) && ! event.mods.isShiftDown())
            return bench.lineUp.choose (sound.row);
    if (event.position.y >= band::cuesTop && event.position.y < band::soundsTop)
        for (const auto& cue : bench.times()->cues)
            if (cue.in && cue.out && event.position.x >= xOf (deliveredOf (*cue.in))
                && event.position.x < xOf (deliveredOf (*cue.out)))
            {
                bench.page = LedgerPage::cues;
                return bench.select ({ cue.cue.id });
            }
    if (event.mods.isShiftDown())
    {
        rangeFrom = event.position.x;
        return;
    }
    scrubbing = true;
    bench.goTo (positionAt (event.position.x));
}

/// Near a cut or a beat the hit catches on it, unless it is to go free. Of both, the nearer; a cut rather than a beat on it.
void BandView::dragHitTo (float x, bool free)
{
    const auto cut = free ? std::nullopt : cutNear (x), beat = free ? std::nullopt : beatNear (x);
    if (cut && (! beat || std::abs (cut->x - x) <= std::abs (beat->x - x) + 0.5f))
        return bench.dragTo (cut->at, cut->name);
    if (beat)
        return bench.dragTo (beat->at, beat->name);
    bench.dragTo (positionAt (x));
}

void BandView::dragRangeTo (float x)
{
    const float left = std::min (*rangeFrom, x), right = std::max (*rangeFrom, x);
    const auto in = positionAt (left), last = positionAt (right);
    auto out = play::stepped (bench.times()->timings, last, 1);
    if (! play::comesBefore (last, out))
        out = bench.times()->timings.shotHead (bench.times()->timings.edition().shots.size());
    bench.setLoop ({ in, out });
}

void BandView::mouseDrag (const juce::MouseEvent& event)
{
    if (bench.times() == nullptr)
        return;
    if (scrolling)
        return scrollTo (event.position.x);
    if (scrubbing)
        return bench.goTo (positionAt (event.position.x));
    if (rangeFrom)
        return dragRangeTo (event.position.x);
    if (pressed.empty())
        return;
    constexpr int threshold = 3; // pixels: a click is not a drag
    if (! bench.drag)
    {
        if (event.getDistanceFromDragStart() < threshold)
            return;
        bench.beginDrag (pressed);
    }
    if (bench.drag)
        dragHitTo (event.position.x - grabOffset, event.mods.isAltDown());
    else
        pressed.clear(); // Escape has put it back: this drag is over
}

void BandView::mouseUp (const juce::MouseEvent&)
{
    pressed.clear();
    scrubbing = scrolling = false;
    rangeFrom.reset();
    bench.dropDrag();
}

void BandView::mouseDoubleClick (const juce::MouseEvent& event)
{
    for (const auto& placed : hits)
        if (placed.mark.expanded (3.0f).contains (event.position) && bench.onRename)
            return bench.onRename();
}

void BandView::mouseWheelMove (const juce::MouseEvent& event, const juce::MouseWheelDetails& wheel)
{
    if (bench.times() == nullptr)
        return;
    if (std::abs (wheel.deltaX) > std::abs (wheel.deltaY) || event.mods.isShiftDown())
    {
        from -= span() * static_cast<double> (event.mods.isShiftDown() ? wheel.deltaY : wheel.deltaX) * 0.5;
        return refresh();
    }
    // About the pointer: what lies under it stays there.
    const double width = std::max (1.0, static_cast<double> (static_cast<float> (getWidth()) - 2 * band::margin));
    const double share = std::clamp (static_cast<double> (event.position.x - band::margin) / width, 0.0, 1.0);
    const double under = from + share * span();
    bench.zoom (std::pow (2.0, static_cast<double> (wheel.deltaY) * 2.0));
    from = under - share * span();
    refresh();
}
} // namespace shutterbeat::window
