#include "desk/RenderReadout.h"

#include "sheets/MarkDraw.h"
#include "time/Clock.h"

#include <algorithm>

namespace shutterbeat::desk
{
namespace
{
bool weighs (spotting::Weight weight, spotting::Weight least)
{
    return static_cast<int> (weight) <= static_cast<int> (least);
}

/// "3.2", or "1:41" when it is long: what a glance can take in.
std::string untilText (const time::Rational& seconds)
{
    return seconds < time::Rational (995, 10) ? time::decimalText (seconds, 1) : time::clockText (seconds, 0);
}
} // namespace

RenderReadout::RenderReadout (const spotting::BookTimes& times_, std::size_t reel_, spotting::Weight countdownTo,
                              std::string receiver_)
    : times (times_)
    , reel (reel_)
    , receiver (std::move (receiver_))
{
    const auto& edition = times.timings.edition();
    for (const auto& shot : edition.shots)
        if (const auto* print = shot.made ? nullptr : times.timings.print (shot.print))
        {
            gauge = print->gauge;
            break;
        }
    for (const auto& row : times.hits)
        if (row.at && row.at->reel == reel && weighs (row.hit.weight, countdownTo))
            hits.push_back ({ row.at->delivered, &row.hit, row.hit.kind == spotting::HitKind::card });
    std::stable_sort (hits.begin(), hits.end(), [] (const Next& a, const Next& b) { return a.delivered < b.delivered; });
}

const spotting::CueTimes* RenderReadout::cueAt (std::int64_t delivered) const
{
    // Cues may overlap (a tacet under music): the one that began last is playing.
    const spotting::CueTimes* found = nullptr;
    for (const auto& cue : times.cues)
        if (cue.in && cue.out && cue.in->reel == reel && cue.out->reel == reel && cue.in->delivered <= delivered
            && delivered < cue.out->delivered)
            found = &cue;
    return found;
}

std::string barText (const spotting::CueTimes& cue, const time::Rational& clock)
{
    if (! cue.cue.tempo || ! cue.barOne)
        return "";
    const auto& map = *cue.cue.tempo;
    const auto quarters = map.beatOf (clock - *cue.barOne);
    if (! quarters.valid() || quarters < map.start())
        return "";
    const auto at = map.barBeatOf (quarters);
    return std::to_string (at.bar) + "|" + std::to_string (at.beat);
}

overlay::Readout RenderReadout::at (const RenderedFrame& frame)
{
    overlay::Readout read;
    const auto delivered = frame.delivered;
    const auto& timings = times.timings;
    read.timecode = timings.timecodeOf (delivered, reel);
    // Beyond midnight the day is told by what stands around; the label itself has to stay readable.
    if (const auto day = read.timecode.find (' '); day != std::string::npos)
        read.timecode.resize (day);
    if (frame.filmFrame)
    {
        read.frame = std::to_string (*frame.filmFrame);
        read.feet = time::feetText (*frame.filmFrame, gauge);
    }
    const auto clock = timings.clockOf (delivered);
    if (const auto* cue = cueAt (delivered))
    {
        read.cueNumber = cue->cue.number;
        read.cueTitle = cue->cue.title;
        read.bar = barText (*cue, clock);
    }
    while (coming < hits.size() && hits[coming].delivered < delivered)
        ++coming;
    if (coming < hits.size())
    {
        const auto& next = hits[coming];
        const auto& hit = *next.hit;
        overlay::NextHit shown;
        shown.frames = std::to_string (next.delivered - delivered);
        shown.seconds = untilText (timings.clockOf (next.delivered) - clock);
        shown.label = hit.label;
        shown.wording = next.wording;
        shown.markKey = hit.id;
        shown.mark = [kind = hit.kind, weight = hit.weight, agreed = hit.agreed] (cairo_t* cairo, double x, double y, double size)
        {
            const auto ink = [] (const overlay::Dye& dye) { return sheets::Dye{ dye.red, dye.green, dye.blue }; };
            sheets::drawMark (cairo, kind, weight, ! agreed, x, y, size, ink (overlay::lamplight), ink (overlay::night));
        };
        read.next = std::move (shown);
    }
    read.receiver = receiver;
    return read;
}

std::vector<overlay::HitMarks> hitMarks (const spotting::BookTimes& times, std::size_t reel, const MarkWish& wish)
{
    std::vector<overlay::HitMarks> marks;
    if (wish.streamer == 0 && ! wish.punches && wish.flutter == 0 && ! wish.flashes)
        return marks;
    for (const auto& row : times.hits)
        if (row.at && row.at->reel == reel
            && (wish.hits.empty() ? weighs (row.hit.weight, wish.least)
                                  : std::find (wish.hits.begin(), wish.hits.end(), row.hit.id) != wish.hits.end()))
            marks.push_back (
                { row.at->delivered, wish.streamer, wish.punches, wish.flutter, wish.flashes, static_cast<int> (row.hit.weight) });
    return marks;
}
} // namespace shutterbeat::desk
