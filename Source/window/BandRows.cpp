// The band's rows that are lines rather than marks: where it stands in the film, running speed, sounds.
#include "play/Reels.h"
#include "spotting/SoundEdit.h"
#include "time/Rate.h"
#include "window/BandLayout.h"
#include "window/BandView.h"
#include "window/Controls.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::window
{
double BandView::framesPerSecond() const
{
    return time::toDouble (bench.times()->timings.delivery().rate.perSecond);
}

// ---- What a drag catches on

std::optional<BandView::Catch> BandView::cutNear (float x) const
{
    constexpr float catches = 8.0f; // pixels
    const auto& edition = bench.times()->timings.edition();
    std::optional<Catch> nearest;
    for (std::size_t i = 1; i + 1 < shotStarts.size(); ++i)
        if (const float at = xOf (shotStarts[i]);
            std::abs (at - x) <= catches && (! nearest || std::abs (at - x) < std::abs (nearest->x - x)))
            nearest =
                Catch{ bench.times()->timings.shotHead (i), at,
                       "the cut to " + std::string (film::shotKindName (edition.shots[i].kind)) + " " + edition.shots[i].name };
    return nearest;
}

/// Beats of the cues' tempos, where they stand far enough apart to be told from each other.
std::optional<BandView::Catch> BandView::beatNear (float x) const
{
    constexpr float catches = 6.0f, roomForBeat = 14.0f; // pixels
    const auto& timings = bench.times()->timings;
    const double width = static_cast<double> (static_cast<float> (getWidth()) - 2 * band::margin);
    const double delivered = from + static_cast<double> (x - band::margin) / width * span();
    std::optional<Catch> nearest;
    for (const auto& cue : bench.times()->cues)
    {
        if (! cue.cue.tempo || ! cue.barOne || ! cue.in || ! cue.out || x < xOf (deliveredOf (*cue.in)) - catches
            || x > xOf (deliveredOf (*cue.out)) + catches)
            continue;
        const auto& map = *cue.cue.tempo;
        const auto before = static_cast<double> (play::deliveredBefore (timings, cue.in->reel));
        // To the thousandth of a frame is nearer than any pixel.
        const time::Rational clock (std::llround ((delivered - before) * 1000), std::int64_t (1000));
        const auto here = map.barBeatOf (map.beatOf (clock / timings.delivery().rate.perSecond - *cue.barOne));
        const auto deliveredOfBeat = [&] (const music::BarBeat& beat) -> std::optional<double>
        {
            const auto at = map.positionOf (beat);
            return at ? std::optional (before + time::toDouble (*cue.barOne + map.timeOf (*at)) * framesPerSecond()) : std::nullopt;
        };
        const music::BarBeat now{ here.bar, here.beat, {}, {} };
        auto next = now;
        if (! deliveredOfBeat ({ now.bar, now.beat + 1, {}, {} }))
            next = { now.bar + 1, 1, {}, {} };
        else
            ++next.beat;
        const auto left = deliveredOfBeat (now), right = deliveredOfBeat (next);
        if (! left || ! right || xOf (*right) - xOf (*left) < roomForBeat)
            continue;
        for (const auto& [beat, frame] : { std::pair (now, *left), std::pair (next, *right) })
        {
            const float at = xOf (frame);
            if (std::abs (at - x) > catches || (nearest && std::abs (at - x) >= std::abs (nearest->x - x)))
                continue;
            // The picture that is on the screen at the beat; one that begins with it is that one.
            constexpr double beginsWith = 0.001; // frames
            const auto spot = play::reelSpotOf (
                timings, static_cast<std::int64_t> (std::floor (std::clamp (frame + beginsWith, 0.0, whole() - 1))));
            if (const auto position = timings.atDelivered (spot.delivered, spot.reel))
                nearest = Catch{ *position, at, "bar " + std::to_string (beat.bar) + " beat " + std::to_string (beat.beat) };
        }
    }
    return nearest;
}

// ---- Overview

juce::Rectangle<float> BandView::viewBox() const
{
    const double room = static_cast<double> (static_cast<float> (getWidth()) - 2 * band::margin);
    constexpr float least = 8.0f; // pixels: still to be grasped at single frames
    const auto left = static_cast<float> (from / whole() * room), width = static_cast<float> (span() / whole() * room);
    return { band::margin + std::min (left, static_cast<float> (room) - least), band::overviewTop, std::max (least, width),
             band::overviewHeight };
}

void BandView::scrollTo (float x)
{
    const double room = static_cast<double> (static_cast<float> (getWidth()) - 2 * band::margin);
    from = static_cast<double> (x - band::margin) / room * whole() - span() / 2;
    refresh();
}

/// Nothing while the whole film is in view anyway.
void BandView::paintOverview (juce::Graphics& g)
{
    if (bench.bandZoom <= 1)
        return;
    const auto& colours = theme();
    const float room = static_cast<float> (getWidth()) - 2 * band::margin;
    const auto at = [&] (double delivered) { return band::margin + static_cast<float> (delivered / whole()) * room; };
    const float middle = band::overviewTop + band::overviewHeight / 2;
    g.setColour (colours.quiet.withAlpha (0.35f));
    g.fillRect (band::margin, middle - 0.5f, room, 1.0f);
    g.setColour (colours.night);
    for (const auto& cue : bench.times()->cues)
        if (cue.in && cue.out)
        {
            const float left = at (deliveredOf (*cue.in));
            g.fillRect (left, middle - 1.5f, std::max (1.0f, at (deliveredOf (*cue.out)) - left), 3.0f);
        }
    g.setColour (colours.lamp.withAlpha (0.28f));
    g.fillRoundedRectangle (viewBox(), 3.0f);
    g.setColour (colours.lamp);
    g.drawRoundedRectangle (viewBox().reduced (0.5f), 3.0f, 1.0f);
}

// ---- Running speed

/// A step line that rises with the speed, named where it changes.
void BandView::paintSpeeds (juce::Graphics& g)
{
    const auto& colours = theme();
    const auto& edition = bench.times()->timings.edition();
    if (shotStarts.size() != edition.shots.size() + 1)
        return;
    struct Run
    {
        double start, end;
        time::Rational speed;
    };
    std::vector<Run> runs;
    for (std::size_t i = 0; i < edition.shots.size(); ++i)
    {
        const auto speed = film::speedOf (edition, edition.shots[i]);
        if (! runs.empty() && runs.back().speed == speed)
            runs.back().end = shotStarts[i + 1];
        else
            runs.push_back ({ shotStarts[i], shotStarts[i + 1], speed });
    }
    auto slowest = edition.speed, fastest = edition.speed;
    for (const auto& run : runs)
    {
        slowest = std::min (slowest, run.speed);
        fastest = std::max (fastest, run.speed);
    }
    const auto small = font (Face::numbers, size::small * 0.85f);
    for (const auto& run : runs)
    {
        const float left = std::max (band::margin, xOf (run.start)),
                    right = std::min (static_cast<float> (getWidth()), xOf (run.end));
        if (right <= left)
            continue;
        const double share = slowest == fastest ? 0.0 : time::toDouble (run.speed - slowest) / time::toDouble (fastest - slowest);
        const float y = band::speedTop + band::speedHeight - 2.0f - static_cast<float> (share) * (band::speedHeight - 5.0f);
        const auto words = text (time::speedName (run.speed)) + (runs.size() == 1 ? " film fr./s" : "");
        const float wide = textWidth (small, words) + 6.0f;
        const bool named = right - left > wide + 4.0f;
        g.setColour (colours.woods.withAlpha (0.8f));
        g.fillRect (left + (named ? wide : 0.0f), y, std::max (1.0f, right - left - (named ? wide : 0.0f) - 1.0f), 1.2f);
        if (named)
            drawLine (g, words, { left, band::speedTop + 1.0f, wide, band::speedHeight }, small, colours.quiet);
    }
}

// ---- Sounds

std::vector<BandView::PlacedSound> BandView::placedSounds() const
{
    std::vector<PlacedSound> placed;
    const auto& timings = bench.times()->timings;
    const auto& rows = bench.book().sounds;
    constexpr std::size_t lanes = 2;
    float lastEnd[lanes] = { -1e9f, -1e9f };
    std::vector<PlacedSound> all;
    for (std::size_t i = 0; i < rows.size(); ++i)
    {
        const auto start = spotting::startOf (bench.book(), timings, rows[i]);
        if (! start)
            continue;
        const double seconds =
            static_cast<double> (play::deliveredBefore (timings, start->reel)) / framesPerSecond() + time::toDouble (start->clock);
        const float left = xOf (seconds * framesPerSecond()),
                    right = xOf ((seconds + time::toDouble (spotting::lengthOf (rows[i]))) * framesPerSecond());
        all.push_back ({ i, { left, band::soundsTop, std::max (2.0f, right - left), band::soundsHeight }, seconds });
    }
    std::stable_sort (all.begin(), all.end(), [] (const auto& a, const auto& b) { return a.start < b.start; });
    // What sounds at once lies on two lanes; more than two at once share the lower one.
    bool overlap = false;
    for (auto& sound : all)
    {
        const std::size_t lane = sound.box.getX() >= lastEnd[0] - 0.5f ? 0 : 1;
        overlap = overlap || lane == 1;
        lastEnd[lane] = std::max (lastEnd[lane], sound.box.getRight());
        sound.box.setY (static_cast<float> (lane)); // put right below, when it is known whether there are two
    }
    for (auto& sound : all)
    {
        const float high = overlap ? band::soundsHeight / 2 - 1 : band::soundsHeight;
        sound.box = { sound.box.getX(), band::soundsTop + sound.box.getY() * (high + 2), sound.box.getWidth(), high };
        if (sound.box.getRight() >= 0 && sound.box.getX() <= static_cast<float> (getWidth()))
            placed.push_back (sound);
    }
    return placed;
}

juce::Rectangle<float> BandView::boxOf (const std::string& sound) const
{
    for (const auto& placed : sounds)
        if (bench.book().sounds[placed.row].id == sound)
            return placed.box;
    return {};
}

void BandView::paintSounds (juce::Graphics& g)
{
    for (const auto& sound : sounds)
        if (g.getClipBounds().toFloat().intersects (sound.box))
            paintSound (g, sound);
}

void BandView::paintSound (juce::Graphics& g, const PlacedSound& sound)
{
    const auto& colours = theme();
    const auto& is = bench.book().sounds[sound.row];
    const bool chosen = bench.page == LedgerPage::lineUp && bench.lineUp.number() == sound.row;
    g.setColour (colours.raised);
    g.fillRoundedRectangle (sound.box, 3.0f);
    const auto* outline = bench.outlines.of (is);
    const auto seen = sound.box.getIntersection (g.getClipBounds().toFloat()).getIntersection (getLocalBounds().toFloat());
    const double pixelsPerSecond =
        static_cast<double> (static_cast<float> (getWidth()) - 2 * band::margin) / span() * framesPerSecond();
    const auto secondsAt = [&] (float x) { return static_cast<double> (x - sound.box.getX()) / pixelsPerSecond; };
    if (outline != nullptr && ! seen.isEmpty())
    {
        g.setColour (is.muted ? colours.quiet.withAlpha (0.5f) : colours.night);
        const float half = sound.box.getHeight() / 2 - 2.0f, middle = sound.box.getCentreY();
        const float full = static_cast<float> (outline->loudest);
        for (const auto& piece : outline->pieces)
        {
            const float left =
                std::max (std::floor (seen.getX()), sound.box.getX() + static_cast<float> (piece.from * pixelsPerSecond));
            const float right =
                std::min (std::ceil (seen.getRight()), sound.box.getX() + static_cast<float> (piece.to * pixelsPerSecond));
            if (right - left < 1.0f)
                continue;
            const auto sample = [&] (float x) { return std::llround ((secondsAt (x) - piece.from) * piece.peakRate); };
            const auto columns = static_cast<std::size_t> (right - left);
            const auto peaks = piece.peaks.outline (sample (left), sample (left + static_cast<float> (columns)), columns);
            for (std::size_t x = 0; x < peaks.size(); ++x)
            {
                const float top = middle - static_cast<float> (peaks[x].high) / full * half;
                const float bottom = middle - static_cast<float> (peaks[x].low) / full * half;
                g.fillRect (left + static_cast<float> (x), top, 1.0f, std::max (1.0f, bottom - top));
            }
            // Onsets stand where they can be told apart.
            constexpr double roomForOnset = 5.0; // pixels, on the average
            if (piece.sharp.empty()
                || (piece.to - piece.from) * pixelsPerSecond / static_cast<double> (piece.sharp.size()) < roomForOnset)
                continue;
            g.setColour (colours.lamp);
            for (const auto& onset : piece.sharp)
                if (const float x = sound.box.getX() + static_cast<float> (onset.seconds * pixelsPerSecond);
                    x >= left && x <= right)
                    g.fillRect (x - 0.5f, sound.box.getY() + 1.0f, 1.0f, 5.0f);
            g.setColour (is.muted ? colours.quiet.withAlpha (0.5f) : colours.night);
        }
    }
    g.setColour (chosen ? colours.lamp : colours.night);
    g.drawRoundedRectangle (sound.box.reduced (0.5f), 3.0f, chosen ? 1.6f : 0.8f);
    const auto small = font (Face::words, size::small * 0.9f);
    auto words = text (is.name) + (is.muted ? " (muted)" : "");
    if (outline == nullptr)
        words += "  listening ...";
    else if (! outline->failure.empty())
        words += "  " + text (outline->failure);
    const auto inView = sound.box.getIntersection (getLocalBounds().toFloat()).reduced (5.0f, 1.0f);
    if (inView.getWidth() < 30.0f)
        return;
    auto label = inView.withHeight (14.0f).withWidth (std::min (inView.getWidth(), textWidth (small, words) + 6.0f));
    g.setColour (colours.panel.withAlpha (0.75f));
    g.fillRoundedRectangle (label.expanded (2.0f, 0.0f), 3.0f);
    drawLine (g, words, label, small, outline != nullptr && ! outline->failure.empty() ? colours.rose : colours.text);
}
} // namespace shutterbeat::window
