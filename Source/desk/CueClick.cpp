#include "desk/CueClick.h"

#include "exchange/WavFile.h"
#include "mix/Mixer.h"
#include "store/WholeFile.h"
#include "time/Clock.h"

#include <algorithm>

namespace shutterbeat::desk
{
namespace
{
mix::ClickKind kindOf (const music::BeatMoment& moment)
{
    return moment.accent ? mix::ClickKind::accent : moment.part > 0 || moment.free ? mix::ClickKind::soft : mix::ClickKind::plain;
}
} // namespace

std::string clickCaution()
{
    return mix::clickCaution();
}

Result<CueClicks> clicksOfCue (const spotting::CueTimes& cue, const music::ClickLook& look)
{
    const std::string where = "cue " + cue.cue.number;
    if (! cue.cue.tempo)
        return usageError (where, "has no tempo yet; set one with: shutterbeat tempo BOOK " + cue.cue.number + " set --tempo 96");
    if (! cue.barOne || ! cue.out || cue.out->reel != cue.in->reel)
        return usageError (where, "has no place for its click: " + (cue.barOneLost.empty() ? cue.lost : cue.barOneLost));
    const auto moments = music::clicksOf (*cue.cue.tempo, cue.out->clock - *cue.barOne, look);
    if (! moments)
        return moments.error();
    CueClicks found;
    for (const auto& moment : *moments)
    {
        found.clicks.push_back ({ *cue.barOne + moment.seconds, kindOf (moment) });
        found.free += moment.free ? 1 : 0;
    }
    return found;
}

std::vector<mix::Click> clicksOfFilm (const spotting::BookTimes& times, const music::ClickLook& look,
                                      const std::vector<time::Rational>& reelStarts, std::optional<std::size_t> reel)
{
    std::vector<mix::Click> all;
    for (const auto& cue : times.cues)
    {
        if (! cue.in || cue.in->reel >= reelStarts.size() || (reel && cue.in->reel != *reel))
            continue;
        if (const auto found = clicksOfCue (cue, look))
            for (const auto& click : found->clicks)
                all.push_back ({ reelStarts[cue.in->reel] + click.at, click.kind });
    }
    return all;
}

Result<WrittenClick> writeClick (const spotting::BookTimes& times, const std::string& cue, const ClickWish& wish,
                                 const std::string& path)
{
    const auto* row = spotting::cueRow (times, cue);
    if (row == nullptr)
        return usageError ("cue " + cue, "the book does not have it");
    const std::string where = "cue " + row->cue.number;
    if (wish.samplesPerSecond < 8000 || wish.samplesPerSecond > 192000)
        return usageError ("sample rate " + std::to_string (wish.samplesPerSecond), "use 8000 to 192000, such as 48000");
    const auto found = clicksOfCue (*row, wish.look);
    if (! found)
        return found.error();
    if (found->clicks.empty())
        return usageError (where, "no click falls into it");
    WrittenClick written;
    mix::Plan plan;
    plan.clickLevel = wish.level;
    plan.clicks = found->clicks;
    written.freeClicks = found->free;
    written.clicks = found->clicks.size() - found->free;
    const auto first = time::sampleAt (plan.clicks.front().at, wish.samplesPerSecond);
    const auto end = std::max (time::sampleAt (row->out->clock, wish.samplesPerSecond),
                               time::sampleAt (plan.clicks.back().at, wish.samplesPerSecond) + wish.samplesPerSecond / 40);
    written.firstSample = first;
    written.samples = end - first;
    if (written.samples > 700'000'000)
        return usageError (where, "its click would be larger than a WAV file can be; use a lower sample rate");
    exchange::WavLook look;
    look.samplesPerSecond = wish.samplesPerSecond;
    look.description = "Click of cue " + row->cue.number;
    const auto& rate = times.timings.delivery().rate;
    const auto day = std::int64_t{ 86400 } * wish.samplesPerSecond;
    auto stamp = first;
    if (time::hasTimecode (rate))
        stamp += time::sampleAt (time::Rational (times.timings.startCount (row->in->reel)) / rate.perSecond, wish.samplesPerSecond);
    look.timeReference = ((stamp % day) + day) % day;
    if (stamp < 0)
        written.notes.push_back ("the click begins before midnight of its timecode; its time stamp is on the day before");
    std::string bytes = exchange::wavHead (look, written.samples);
    mix::Mixer mixer (plan, time::Rational (wish.samplesPerSecond), wish.samplesPerSecond);
    std::vector<float> stereo, mono;
    for (std::int64_t at = 0; at < written.samples; at += 65536)
    {
        const auto count = static_cast<std::size_t> (std::min<std::int64_t> (65536, written.samples - at));
        stereo.assign (2 * count, 0);
        mixer.render (first + at, stereo);
        mono.resize (count);
        for (std::size_t i = 0; i < count; ++i)
            mono[i] = stereo[2 * i];
        exchange::appendSamples (bytes, mono);
    }
    exchange::endWav (bytes);
    if (auto saved = store::writeWhole (path, bytes); ! saved)
        return saved.error();
    if (wish.level > time::Rational (mix::highestClickLevel))
        written.notes.push_back ("the level was lowered to " + std::to_string (mix::highestClickLevel) + " dB");
    written.notes.push_back (clickCaution());
    return written;
}
} // namespace shutterbeat::desk
