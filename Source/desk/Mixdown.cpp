#include "desk/Mixdown.h"

#include "desk/CueClick.h"
#include "desk/FilmSound.h"
#include "desk/MixdownVoices.h"
#include "desk/RenderPlan.h"
#include "exchange/WavFile.h"
#include "store/PartFile.h"
#include "time/Clock.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::desk
{
namespace
{
constexpr std::int64_t block = 65536;

/// Where things of the file lie, in exact seconds from picture start.
struct Layout
{
    time::Rational begin, pictureEnd, end;
    std::vector<mix::Tone> pops;
    std::vector<time::Rational> reelStarts;
    std::size_t firstReel = 0, lastReel = 0;
};

Result<Layout> layOut (const film::Timings& timings, const MixdownWish& wish)
{
    Layout layout;
    if (wish.reel && *wish.reel >= timings.reelCount())
        return usageError ("reel " + std::to_string (*wish.reel + 1),
                           "the edition has " + std::to_string (timings.reelCount()) + " of them");
    layout.firstReel = wish.reel.value_or (0);
    layout.lastReel = wish.reel.value_or (timings.reelCount() - 1);
    for (std::size_t r = 0; r < timings.reelCount(); ++r)
    {
        layout.reelStarts.push_back (layout.pictureEnd);
        if (r >= layout.firstReel && r <= layout.lastReel)
            layout.pictureEnd += timings.clockOf (timings.deliveredLength (r));
    }
    const auto before = RenderPlan::of (timings, layout.firstReel, wish.leaderSeconds, wish.pop);
    if (! before)
        return before.error();
    const auto after = RenderPlan::of (timings, layout.lastReel, wish.leaderSeconds, wish.pop);
    if (! after)
        return after.error();
    layout.begin = -timings.clockOf (before->leaderFrames());
    layout.end = layout.pictureEnd + timings.clockOf (after->frames() - after->leaderFrames() - after->pictureFrames());
    const auto one = timings.clockOf (1);
    if (before->popBefore())
        layout.pops.push_back ({ timings.clockOf (*before->popBefore()), one });
    if (after->popAfter())
        layout.pops.push_back ({ layout.pictureEnd + timings.clockOf (*after->popAfter() - after->pictureFrames()), one });
    return layout;
}

/// Points for who opens the file elsewhere: every cue that begins in it.
std::vector<exchange::WavCue> cuePoints (const spotting::BookTimes& times, const Layout& layout, std::int64_t first,
                                         std::int64_t samples, int rate)
{
    std::vector<exchange::WavCue> points;
    for (const auto& cue : times.cues)
    {
        if (! cue.in || cue.in->reel < layout.firstReel || cue.in->reel > layout.lastReel)
            continue;
        const auto at = time::sampleAt (layout.reelStarts[cue.in->reel] + cue.in->clock, rate) - first;
        if (at >= 0 && at < samples)
            points.push_back ({ static_cast<std::uint32_t> (points.size() + 1), at,
                                cue.cue.number + (cue.cue.title.empty() ? "" : " " + cue.cue.title) });
    }
    return points;
}

/// Lays the time stamp and points of the file into its head.
exchange::WavLook lookOf (const spotting::BookTimes& times, const Layout& layout, std::int64_t first, std::int64_t samples,
                          int rate, Mixdown& made)
{
    exchange::WavLook look;
    look.samplesPerSecond = rate;
    look.channels = 2;
    const auto& timings = times.timings;
    look.description = "Mixdown, edition " + timings.edition().letter + ", " + time::rateName (timings.delivery().rate);
    look.cues = cuePoints (times, layout, first, samples, rate);
    auto stamp = first;
    const auto& final = timings.delivery().rate;
    if (time::hasTimecode (final))
    {
        stamp += time::sampleAt (time::Rational (timings.startCount (layout.firstReel)) / final.perSecond, rate);
        made.start = timings.timecodeOf (time::roundOf (layout.begin * final.perSecond), layout.firstReel);
    }
    else
        made.notes.push_back ("its time stamp counts from picture start: " + time::rateName (final) + " has no timecode");
    const auto day = std::int64_t{ 86400 } * rate;
    look.timeReference = ((stamp % day) + day) % day;
    return look;
}
} // namespace

Result<Mixdown> writeMixdown (const OpenBook& open, const std::string& path, const MixdownWish& wish, const Progress& progress)
{
    const int rate = wish.samplesPerSecond;
    if (rate < 8000 || rate > 192000)
        return usageError ("sample rate " + std::to_string (rate), "use 8000 to 192000, such as 48000");
    if (wish.gain < time::Rational (-120) || wish.gain > time::Rational (24))
        return usageError ("gain " + time::decimalText (wish.gain, 1), "use -120 to 24 decibels");
    const auto times = spotting::timesOf (open.book, wish.asked);
    if (! times)
        return times.error();
    const auto layout = layOut (times->timings, wish);
    if (! layout)
        return layout.error();

    Mixdown made;
    made.path = path;
    made.notes = times->notes;
    const auto first = time::sampleAt (layout->begin, rate), end = time::sampleAt (layout->end, rate);
    made.samples = end - first;
    made.pictureSample = -first;
    made.pictureSamples = time::sampleAt (layout->pictureEnd, rate);

    std::vector<mix::Click> clicks;
    if (wish.click)
        clicks = clicksOfFilm (*times, *wish.click, layout->reelStarts, wish.reel);
    if (! clicks.empty())
        made.notes.push_back (clickCaution());
    auto voices = MixdownVoices::of (open, *times, wish, layout->reelStarts, { first, end }, std::move (clicks), made, progress);
    if (! voices)
        return voices.error();
    mix::Plan popPlan;
    popPlan.tones = layout->pops;
    mix::Mixer pops (popPlan, time::Rational (rate), rate);

    store::PartFile file (path);
    if (const auto begun = file.write (exchange::wavHead (lookOf (*times, *layout, first, made.samples, rate, made), made.samples));
        ! begun)
        return begun.error();
    mix::LoudnessMeter meter (rate);
    const auto gain = static_cast<float> (mix::factorOf (wish.gain));
    std::vector<float> stereo, tones;
    std::string bytes;
    for (auto at = first; at < end; at += block)
    {
        if (progress && ! progress (static_cast<double> (at - first) / static_cast<double> (made.samples), "mixing"))
            return Error{ ErrorCode::cancelled, path, "stopped; nothing was written" };
        const auto count = std::min (block, end - at);
        stereo.assign (static_cast<std::size_t> (2 * count), 0.0f);
        tones.resize (stereo.size());
        if (const auto read = voices->add (at, stereo); ! read)
            return read.error();
        for (auto& sample : stereo)
            sample *= gain;
        const auto from = std::clamp<std::int64_t> (-at, 0, count), to = std::clamp (made.pictureSamples - at, from, count);
        if (! meter.add (std::span<const float> (stereo).subspan (static_cast<std::size_t> (2 * from),
                                                                  static_cast<std::size_t> (2 * (to - from)))))
            return Error{ ErrorCode::overflow, path, "its loudness could not be measured; try again with less else running" };
        pops.render (at, tones);
        for (std::size_t i = 0; i < stereo.size(); ++i)
        {
            stereo[i] += tones[i];
            made.clipped += std::abs (stereo[i]) > 1.0f ? 1 : 0;
        }
        bytes.clear();
        exchange::appendSamples (bytes, stereo);
        if (const auto written = file.write (bytes); ! written)
            return written.error();
    }
    // Six bytes a sample: the samples are even by themselves.
    if (const auto finished = file.finish(); ! finished)
        return finished.error();
    made.loudness = meter.result();
    if (made.clipped > 0)
        made.notes.push_back (std::to_string (made.clipped) + " sample(s) were too loud for the file and were clipped; use --gain "
                              + time::fractionText (-time::Rational (
                                  static_cast<std::int64_t> (std::ceil (std::max (0.0, made.loudness.truePeak.value_or (0)) + 1))))
                              + " or lower");
    return made;
}
} // namespace shutterbeat::desk
