#include "play/Reels.h"
#include "time/Clock.h"
#include "window/BandLayout.h"
#include "window/BandView.h"
#include "window/Controls.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::window
{
void BandView::paint (juce::Graphics& g)
{
    g.fillAll (theme().panel);
    if (bench.times() == nullptr)
        return;
    paintOverview (g);
    paintLoop (g);
    paintRuler (g);
    paintFilm (g);
    paintSpeeds (g);
    paintCues (g);
    paintHits (g);
    paintSounds (g);
    paintNow (g);
}

void BandView::paintRuler (juce::Graphics& g)
{
    const auto& timings = bench.times()->timings;
    const double rate = time::toDouble (timings.delivery().rate.perSecond);
    const double pixels = static_cast<double> (static_cast<float> (getWidth()) - 2 * band::margin) / span();
    constexpr double labelRoom = 118; // pixels
    double step = 1;                  // delivered frames between labels
    for (const double seconds : { 0.2, 0.4, 1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0, 1800.0, 3600.0 })
        if (step * pixels < labelRoom)
            step = std::max (1.0, std::round (seconds * rate));
    const auto numbers = font (Face::numbers, size::small);
    for (std::size_t reel = 0; reel < timings.reelCount(); ++reel)
    {
        const auto before = static_cast<double> (play::deliveredBefore (timings, reel));
        const auto length = static_cast<double> (timings.deliveredLength (reel));
        const double first = std::max (0.0, std::floor ((from - before) / step) * step);
        for (double at = first; at < length && before + at < from + span(); at += step)
        {
            const float x = xOf (before + at);
            g.setColour (theme().quiet.withAlpha (0.45f));
            g.fillRect (x, band::rulerTop + 14.0f, 1.0f, 8.0f);
            for (int part = 1; part < 5; ++part)
                g.fillRect (xOf (before + at + step * part / 5), band::rulerTop + 18.0f, 1.0f, 4.0f);
            const auto frame = static_cast<std::int64_t> (at);
            auto label = timings.timecodeOf (frame, reel);
            if (label.empty())
                label = time::clockText (timings.clockOf (frame), 0);
            const float room = std::min (static_cast<float> (step * pixels) - 6.0f, static_cast<float> (getWidth()) - x - 4.0f);
            if (room > 84.0f)
                drawLine (g, text (label), { x + 4.0f, band::rulerTop, room, 16.0f }, numbers, theme().quiet);
        }
    }
}

void BandView::paintFilm (juce::Graphics& g)
{
    const auto& colours = theme();
    const auto& timings = bench.times()->timings;
    const auto& shots = timings.edition().shots;
    const auto clip = g.getClipBounds().toFloat();
    for (std::size_t i = 0; i + 1 < shotStarts.size() && i < shots.size(); ++i)
    {
        const float left = xOf (shotStarts[i]), right = xOf (shotStarts[i + 1]);
        if (right < clip.getX() || left > clip.getRight())
            continue;
        const auto head = timings.shotHead (i);
        const juce::Rectangle<float> box (left + 0.5f, band::filmTop, std::max (1.0f, right - left - 1.0f), band::filmHeight);
        const auto& shot = shots[i];
        const bool card = shot.kind == film::ShotKind::card;
        g.setColour (shot.kind == film::ShotKind::black ? juce::Colours::black : card ? colours.paper : colours.raised);
        g.fillRect (box);
        const juce::Graphics::ScopedSaveState saved (g);
        if (! g.reduceClipRegion (box.getSmallestIntegerContainer()))
            continue;
        // A wording that has no room for its words is better seen as the picture it is.
        constexpr float roomForWords = 96.0f;
        if (card && ! shot.wording.empty() && (box.getWidth() >= roomForWords || shot.made))
        {
            g.setColour (colours.ink);
            g.setFont (font (Face::card, size::usual));
            g.drawFittedText (text (shot.wording), box.reduced (5.0f, 2.0f).toNearestInt(), juce::Justification::centredLeft, 2,
                              1.0f);
        }
        else if (shot.kind != film::ShotKind::black && box.getWidth() > 4)
        {
            auto middle = head;
            if (const auto at = timings.atFilmFrame (head.filmFrame + shot.frames() / 2, head.reel); at && ! shot.made)
                middle = *at;
            const auto key = bench.files().keyAt (timings, middle);
            const auto image = key ? feed.small (*key) : juce::Image();
            // A shot that begins left of the window keeps its picture in view.
            const auto inView = box.withLeft (std::min (std::max (box.getX(), 0.0f), box.getRight() - 1));
            const auto picture = inView.withWidth (std::min (inView.getWidth(), band::filmHeight * 4.0f / 3.0f));
            if (image.isValid())
            {
                g.setOpacity (0.85f);
                g.setImageResamplingQuality (juce::Graphics::mediumResamplingQuality);
                g.drawImage (image, picture, juce::RectanglePlacement::centred | juce::RectanglePlacement::fillDestination);
                g.setOpacity (1.0f);
            }
            const auto rest = inView.withTrimmedLeft (picture.getWidth() + 6.0f);
            if (rest.getWidth() > 24)
                drawLine (g, text (shot.name), rest, font (Face::numbers, size::small), card ? colours.ink : colours.quiet);
        }
        // Close enough for single film frames: their lines.
        const double frames = static_cast<double> (shot.frames());
        if (frames > 0 && static_cast<double> (box.getWidth()) / frames >= 7)
        {
            g.setColour (colours.ground.withAlpha (0.8f));
            for (std::int64_t k = 1; k < shot.frames(); ++k)
                if (const auto at = timings.atFilmFrame (head.filmFrame + k, head.reel))
                    g.fillRect (xOf (static_cast<double> (play::deliveredInAll (timings, *at))), box.getY(), 1.0f, 7.0f);
        }
    }
}

void BandView::paintHits (juce::Graphics& g)
{
    const auto& colours = theme();
    const auto words = font (Face::words, size::small);
    const auto ids = bench.selected();
    for (std::size_t i = 0; i < hits.size(); ++i)
    {
        const auto& row = bench.times()->hits[hits[i].row];
        auto box = hits[i].mark;
        const bool dragged = bench.drag && bench.drag->moved && bench.drag->hit == row.hit.id;
        const bool chosen = std::find (ids.begin(), ids.end(), row.hit.id) != ids.end();
        if (dragged)
        {
            g.setColour (colours.quiet.withAlpha (0.5f));
            g.strokePath (markShape (row.hit.kind, box), juce::PathStrokeType (1.0f));
            const double at = static_cast<double> (play::deliveredInAll (bench.times()->timings, bench.drag->at));
            box = box.withCentre ({ xOf (at), box.getCentreY() });
        }
        // A hair from the film down to the mark, so that its exact place is seen.
        g.setColour ((chosen ? colours.lamp : colours.quiet).withAlpha (chosen ? 1.0f : 0.4f));
        g.fillRect (box.getCentreX() - 0.5f, band::filmTop + band::filmHeight, 1.0f,
                    std::max (0.0f, box.getY() - band::filmTop - band::filmHeight - 6.0f));
        if (chosen)
        {
            g.setColour (colours.lamp.withAlpha (0.22f));
            g.fillRoundedRectangle (box.expanded (3.5f), 4.0f);
            g.setColour (colours.lamp);
            g.drawRoundedRectangle (box.expanded (3.5f), 4.0f, 1.5f);
        }
        drawMark (g, box, row.hit.kind, row.hit.weight, ! row.hit.agreed, row.hit.agreed ? colours.woods : colours.text,
                  colours.quiet);
        if (hits[i].hidden > 0)
            drawLine (g, "+" + juce::String (hits[i].hidden), { box.getRight() + 3, box.getY() - 2, 30, 16 }, words, colours.quiet);
    }
    // Labels last, in what room the marks leave on their own level.
    for (std::size_t i = 0; i < hits.size(); ++i)
    {
        const auto& placed = hits[i];
        const auto& hit = bench.times()->hits[placed.row].hit;
        if (placed.hidden > 0 || hit.label.empty() || (bench.drag && bench.drag->hit == hit.id))
            continue;
        float room = static_cast<float> (getWidth()) - placed.mark.getRight() - 8;
        for (std::size_t j = 0; j < hits.size(); ++j)
            if (j != i && std::abs (hits[j].mark.getY() - placed.mark.getY()) < 1 && hits[j].mark.getX() > placed.mark.getX())
                room = std::min (room, hits[j].mark.getX() - placed.mark.getRight() - 8);
        constexpr float least = 34.0f;
        const bool card = hit.kind == spotting::HitKind::card;
        if (room >= least)
            drawLine (g, text (hit.label), { placed.mark.getRight() + 4, placed.mark.getY() - 3, room, 18 },
                      card ? font (Face::card, size::usual) : words, bench.isSelected (hit.id) ? colours.text : colours.quiet);
    }
    if (bench.drag && bench.drag->moved)
    {
        // Where it will land, in figures, beside the mark.
        const auto& timings = bench.times()->timings;
        const auto at = timings.times (bench.drag->at);
        const auto figures =
            text ((at.timecode.empty() ? std::to_string (at.delivered) : at.timecode) + "  " + std::to_string (at.filmFrame));
        const auto numbers = font (Face::numbers, size::usual);
        const float width = textWidth (numbers, figures) + 16;
        float x = xOf (static_cast<double> (play::deliveredInAll (timings, bench.drag->at))) + 14;
        if (x + width > static_cast<float> (getWidth()))
            x -= width + 28;
        const juce::Rectangle<float> flag (x, band::hitsTop + 20, width, 24);
        g.setColour (colours.lamp);
        g.fillRoundedRectangle (flag, 4.0f);
        drawLine (g, figures, flag, numbers, bench.day ? juce::Colours::white : colours.ground, juce::Justification::centred);
    }
}

void BandView::paintCues (juce::Graphics& g)
{
    const auto& colours = theme();
    for (const auto& cue : bench.times()->cues)
    {
        if (! cue.in || ! cue.out)
            continue;
        const float left = xOf (deliveredOf (*cue.in)), right = xOf (deliveredOf (*cue.out));
        if (right < 0 || left > static_cast<float> (getWidth()))
            continue;
        const juce::Rectangle<float> box (left, band::cuesTop, std::max (3.0f, right - left - 1), band::cuesHeight);
        const bool chosen = bench.isSelected (cue.cue.id);
        const bool silent = cue.cue.kind == spotting::CueKind::tacet;
        g.setColour (colours.night.withAlpha (silent ? 0.10f : 0.30f));
        g.fillRoundedRectangle (box, 4.0f);
        g.setColour (chosen ? colours.lamp : colours.night);
        g.drawRoundedRectangle (box.reduced (0.75f), 4.0f, chosen ? 2.0f : 1.0f);
        paintBars (g, cue, box);
        auto words = box.getIntersection (getLocalBounds().toFloat()).reduced (8, 0);
        const auto numbers = font (Face::numbers, size::small);
        const auto number = text (cue.cue.number);
        drawLine (g, number, words.removeFromLeft (std::min (words.getWidth(), textWidth (numbers, number) + 8)), numbers,
                  colours.text);
        if (words.getWidth() > 24)
            drawLine (g, text (cue.cue.title), words, font (Face::words, size::small), colours.text);
    }
    if (bench.times()->cues.empty())
        drawLine (g, "No cues yet. C begins one at the picture on screen, Shift+C ends it.",
                  { band::margin, band::cuesTop, static_cast<float> (getWidth()) - 2 * band::margin, band::cuesHeight },
                  font (Face::words, size::small), colours.quiet);
}

/// Bars as strokes over the cue's box, beats as short ones where there is room, numbers where there is more. A tempo that is
/// tried out shows before it is anybody's.
void BandView::paintBars (juce::Graphics& g, const spotting::CueTimes& cue, juce::Rectangle<float> box)
{
    constexpr float roomForBar = 7.0f, roomForBeat = 6.0f, roomForNumber = 34.0f;
    auto map = cue.cue.tempo;
    auto barOne = cue.barOne;
    if (const auto tried = bench.tempo.triedMap(); tried && bench.tempo.cue() == cue.cue.id)
    {
        map = tried->first;
        barOne = cue.in->clock + tried->second;
    }
    if (! map || ! barOne)
        return;
    const auto& timings = bench.times()->timings;
    const double rate = time::toDouble (timings.delivery().rate.perSecond);
    const auto before = static_cast<double> (play::deliveredBefore (timings, cue.in->reel));
    const auto xAt = [&] (const time::Rational& quarters)
    { return xOf (before + time::toDouble (*barOne + map->timeOf (quarters)) * rate); };
    const auto first = map->barBeatOf (map->beatOf (cue.in->clock - *barOne)).bar;
    const auto& colours = theme();
    const auto numbers = font (Face::numbers, size::small * 0.85f);
    const float end = std::min (box.getRight(), static_cast<float> (getWidth()));
    // From the first bar in view: bars before it are only counted over.
    constexpr std::int64_t most = 20'000;
    for (std::int64_t bar = first; bar < first + most; ++bar)
    {
        const auto head = map->barStart (bar), next = map->barStart (bar + 1);
        const float x = xAt (head), width = xAt (next) - x;
        if (x > end)
            break;
        if (x + width < 0 || width < roomForBar)
        {
            if (width < roomForBar && x >= 0)
                break; // too close to be told apart
            continue;
        }
        if (x >= box.getX())
        {
            g.setColour (colours.night);
            g.fillRect (x - 0.5f, box.getY(), 1.0f, box.getHeight());
            if (width >= roomForNumber)
                drawLine (g, juce::String (bar), { x + 3, box.getBottom() - 11, width - 4, 10 }, numbers, colours.quiet);
        }
        const auto beats = static_cast<int> (music::beatLengths (map->meterOf (bar)).size());
        if (beats < 2 || width / static_cast<float> (beats) < roomForBeat)
            continue;
        for (int beat = 2; beat <= beats; ++beat)
            if (const auto at = map->positionOf ({ bar, beat, {}, {} }))
                if (const float beatX = xAt (*at); beatX >= box.getX() && beatX <= end)
                    g.fillRect (beatX - 0.5f, box.getY(), 1.0f, 5.0f);
    }
}

/// A stretch that is played over and over: a wash of lamplight between two brackets that open inwards.
void BandView::paintLoop (juce::Graphics& g)
{
    const auto& colours = theme();
    const auto bracket = [&] (float x, float inwards)
    {
        g.fillRect (x - (inwards < 0 ? 2.0f : 0.0f), band::rulerTop, 2.0f, static_cast<float> (getHeight()) - band::rulerTop - 6);
        for (const float y : { band::rulerTop, static_cast<float> (getHeight()) - 8.0f })
            g.fillRect (std::min (x, x + inwards), y, std::abs (inwards), 2.0f);
    };
    if (const auto box = loopBox(); ! box.isEmpty())
    {
        g.setColour (colours.lamp.withAlpha (0.14f));
        g.fillRect (box);
        g.setColour (colours.lamp);
        bracket (box.getX(), 7.0f);
        bracket (box.getRight(), -7.0f);
    }
    else if (bench.loopPending)
    {
        g.setColour (colours.lamp);
        bracket (xOf (static_cast<double> (play::deliveredInAll (bench.times()->timings, *bench.loopPending))), 7.0f);
    }
}

void BandView::paintNow (juce::Graphics& g)
{
    const float x = xOf (static_cast<double> (bench.transport.deliveredInAll()));
    lastNow = x;
    g.setColour (theme().lamp);
    g.fillRect (x - 0.75f, band::rulerTop, 1.5f, static_cast<float> (getHeight()) - band::rulerTop - 6);
    // A small gate on the film, as the frame in the big one stands here.
    g.drawRoundedRectangle (x - 5, band::filmTop - 3, 10, band::filmHeight + 6, 2.5f, 1.5f);
}
} // namespace shutterbeat::window
