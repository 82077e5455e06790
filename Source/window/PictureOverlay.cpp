#include "window/PictureOverlay.h"

#include "play/Reels.h"
#include "time/Clock.h"

#include <cstring>

namespace shutterbeat::window
{
namespace
{
constexpr std::size_t imagesKept = 48;

overlay::Box boxOf (juce::Rectangle<float> area, float scale)
{
    const auto whole = (area * scale).toNearestInt();
    return { whole.getX(), whole.getY(), whole.getWidth(), whole.getHeight() };
}
} // namespace

overlay::Readout PictureOverlay::readout() const
{
    overlay::Readout read;
    const auto& times = *bench.times();
    const auto& timings = times.timings;
    const auto at = timings.times (bench.shown());
    const auto delivered = bench.drag ? at.delivered : bench.transport.delivered();
    const auto& wish = bench.overlay();
    read.timecode = timings.timecodeOf (delivered, at.reel);
    read.frame = std::to_string (at.filmFrame);
    read.feet = at.feet;
    const auto here = play::deliveredBefore (timings, at.reel) + delivered;
    const auto inAll = [&] (const film::PlaceTimes& place)
    { return play::deliveredBefore (timings, place.reel) + place.delivered; };
    if (wish.cue)
        for (const auto& row : times.cues)
            if (row.in && row.out && inAll (*row.in) <= here && here < inAll (*row.out))
            {
                read.cueNumber = row.cue.number;
                read.cueTitle = row.cue.title;
            }
    if (wish.countdown)
        for (const auto& row : times.hits)
            if (row.at && inAll (*row.at) > here)
            {
                const auto frames = inAll (*row.at) - here;
                read.next = overlay::NextHit{ time::secondsText (time::Rational (frames) / timings.delivery().rate.perSecond, 1),
                                              std::to_string (frames),
                                              row.hit.label,
                                              row.hit.kind == spotting::HitKind::card,
                                              {},
                                              {} };
                break;
            }
    return read;
}

void PictureOverlay::drawPatch (juce::Graphics& g, const overlay::Patch& patch, float scale)
{
    if (! patch.pixels || patch.box.width <= 0 || patch.box.height <= 0)
        return;
    if (images.size() > imagesKept)
        images.clear();
    auto& drawn = images[patch.pixels.get()];
    if (! drawn.image.isValid())
    {
        drawn.pixels = patch.pixels;
        drawn.image = juce::Image (juce::Image::ARGB, patch.box.width, patch.box.height, false);
        const juce::Image::BitmapData data (drawn.image, juce::Image::BitmapData::writeOnly);
        for (int y = 0; y < patch.box.height; ++y)
            std::memcpy (data.getLinePointer (y),
                         patch.pixels->data() + static_cast<std::size_t> (y) * static_cast<std::size_t> (patch.box.width),
                         static_cast<std::size_t> (patch.box.width) * sizeof (std::uint32_t));
    }
    g.setOpacity (1.0f);
    g.drawImageTransformed (drawn.image,
                            juce::AffineTransform::translation (static_cast<float> (patch.box.x), static_cast<float> (patch.box.y))
                                .scaled (1.0f / scale));
}

void PictureOverlay::draw (juce::Graphics& g, juce::Rectangle<int> view, juce::Rectangle<float> picture, float scale)
{
    const auto& wish = bench.overlay();
    if (bench.times() == nullptr || (! wish.numbers() && ! wish.marks()))
        return;
    const auto box = boxOf (picture, scale), whole = boxOf (view.toFloat(), scale);
    if (! (box == pictureSeen) || ! (whole == viewSeen) || ! (wish == wishSeen))
    {
        pictureSeen = box;
        viewSeen = whole;
        wishSeen = wish;
        numbers.reset();
        marks.reset();
        images.clear();
    }
    if (wish.marks())
    {
        if (! marks)
            marks = std::make_unique<overlay::MarkPaint> (box);
        const auto at =
            bench.drag ? play::deliveredInAll (bench.times()->timings, bench.drag->at) : bench.transport.deliveredInAll();
        for (const auto& patch : marks->draw (bench.markPlan().at (at)))
            drawPatch (g, patch, scale);
    }
    if (wish.numbers())
    {
        if (! numbers)
        {
            overlay::Parts parts;
            parts.timecode = wish.timecode;
            parts.frame = wish.frame;
            parts.feet = wish.feet;
            parts.bar = false;
            parts.cue = wish.cue;
            parts.countdown = wish.countdown;
            parts.receiver = false;
            numbers = std::make_unique<overlay::Overlay> (whole.width, whole.height, box, parts);
        }
        for (const auto& patch : numbers->draw (readout()))
            drawPatch (g, patch, scale);
    }
}
} // namespace shutterbeat::window
