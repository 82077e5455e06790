#include "spotting/Carry.h"

#include "time/Clock.h"

#include <algorithm>
#include <array>

namespace shutterbeat::spotting
{
namespace
{
/// Film frames before a reel of an edition.
std::int64_t framesBefore (const film::Timings& timings, std::size_t reel)
{
    std::int64_t frames = 0;
    for (std::size_t r = 0; r < reel; ++r)
        frames += timings.filmTime (r).frames();
    return frames;
}

std::int64_t deliveredBefore (const film::Timings& timings, std::size_t reel)
{
    std::int64_t frames = 0;
    for (std::size_t r = 0; r < reel; ++r)
        frames += timings.deliveredLength (r);
    return frames;
}

/// Both editions with their times.
struct Pair
{
    BookTimes before, after;
    film::ChangeList changes;
    std::vector<film::ShotFate> fates;

    [[nodiscard]] std::int64_t oldFrame (const film::PlaceTimes& at) const
    {
        return framesBefore (before.timings, at.reel) + at.filmFrame;
    }
    [[nodiscard]] std::int64_t newFrame (const film::PlaceTimes& at) const
    {
        return framesBefore (after.timings, at.reel) + at.filmFrame;
    }
    [[nodiscard]] std::int64_t oldDelivered (const film::PlaceTimes& at) const
    {
        return deliveredBefore (before.timings, at.reel) + at.delivered;
    }
    [[nodiscard]] std::int64_t newDelivered (const film::PlaceTimes& at) const
    {
        return deliveredBefore (after.timings, at.reel) + at.delivered;
    }
};

/// How much of the shot is gone at the edge that a place is pinned to.
std::int64_t trimmedAt (const Pair& pair, const film::Place& place)
{
    const auto* edge = std::get_if<film::EdgePlace> (&place);
    if (edge == nullptr)
        return 0;
    const auto& shots = pair.before.timings.edition().shots;
    int instance = 0;
    for (std::size_t i = 0; i < shots.size(); ++i)
        if (shots[i].id == edge->shot && instance++ == edge->instance)
            return edge->edge == film::Edge::head ? pair.fates[i].trimmedHead : pair.fates[i].trimmedTail;
    return 0;
}

CarriedPlace carried (const Pair& pair, const film::Place& place)
{
    CarriedPlace result;
    const auto was = pair.before.timings.find (place), is = pair.after.timings.find (place);
    if (was)
        result.before = pair.before.timings.times (*was);
    if (is)
        result.after = pair.after.timings.times (*is);
    else
        result.why = is.error().text();
    if (! is)
        return result;
    if (! was)
    {
        result.fate = Fate::back;
        return result;
    }
    result.frames = pair.newFrame (*result.after) - pair.oldFrame (*result.before);
    result.delivered = pair.newDelivered (*result.after) - pair.oldDelivered (*result.before);
    result.trimmed = trimmedAt (pair, place);
    result.fate = result.frames == 0 && result.delivered == 0 ? Fate::unmoved : Fate::moved;
    return result;
}

/// Exact clock seconds from the first picture start of an edition to the head of one of its film frames, all reels laid end to
/// end.
time::Rational clockAt (const film::Timings& timings, std::int64_t frame)
{
    time::Rational before;
    for (std::size_t r = 0; r < timings.reelCount(); ++r)
    {
        const auto& reel = timings.filmTime (r);
        if (frame <= reel.frames() || r + 1 == timings.reelCount())
        {
            const auto at = std::clamp<std::int64_t> (frame, 0, reel.frames());
            return before + reel.at (at) * timings.delivery().countingRate() / timings.delivery().rate.perSecond;
        }
        before += reel.length() * timings.delivery().countingRate() / timings.delivery().rate.perSecond;
        frame -= reel.frames();
    }
    return before;
}

/// What was taken out of [oldIn, oldOut) and put into [newIn, newOut), spot by spot.
std::vector<InsideChange> insideOf (const Pair& pair, std::int64_t oldIn, std::int64_t oldOut, std::int64_t newIn,
                                    std::int64_t newOut)
{
    std::vector<InsideChange> all;
    std::int64_t oldAt = oldIn, newAt = newIn;
    const auto upTo = [&] (std::int64_t oldNext, std::int64_t newNext)
    {
        InsideChange change{ oldAt, newAt, oldNext - oldAt, newNext - newAt, {}, {}, "" };
        change.seconds = clockAt (pair.after.timings, newNext) - clockAt (pair.after.timings, newAt)
                         - (clockAt (pair.before.timings, oldNext) - clockAt (pair.before.timings, oldAt));
        if (change.out != 0 || change.in != 0 || change.seconds.sign() != 0)
            all.push_back (std::move (change));
    };
    for (const auto& run : pair.changes.changes)
    {
        if (run.oldFirst < 0 || run.newFirst < 0 || run.frames == 0)
            continue;
        // The part of the run that both ranges hold and that goes on from what has been seen.
        const auto from = std::max ({ run.oldFirst, oldAt, run.oldFirst + newAt - run.newFirst });
        const auto to = std::min ({ run.oldFirst + run.frames, oldOut, run.oldFirst + newOut - run.newFirst });
        if (from >= to)
            continue;
        upTo (from, from - run.oldFirst + run.newFirst);
        oldAt = to;
        newAt = to - run.oldFirst + run.newFirst;
    }
    upTo (oldOut, newOut);
    return all;
}

CarriedCue carriedCue (const Pair& pair, const CueTimes& row)
{
    CarriedCue result;
    result.cue = row.cue;
    result.in = carried (pair, row.cue.in);
    result.out = carried (pair, row.cue.out);
    const auto &in = result.in, &out = result.out;
    if (! in.before || ! in.after || ! out.before || ! out.after)
        return result;
    const auto oldIn = pair.oldFrame (*in.before), oldOut = pair.oldFrame (*out.before);
    const auto newIn = pair.newFrame (*in.after), newOut = pair.newFrame (*out.after);
    result.frames = newOut - newIn - (oldOut - oldIn);
    const auto clock = [] (const film::Timings& timings, const film::PlaceTimes& at)
    { return timings.clockOf (deliveredBefore (timings, at.reel)) + at.clock; };
    result.seconds = clock (pair.after.timings, *out.after) - clock (pair.after.timings, *in.after)
                     - (clock (pair.before.timings, *out.before) - clock (pair.before.timings, *in.before));
    if (oldOut < oldIn || newOut < newIn)
        return result;
    result.inside = insideOf (pair, oldIn, oldOut, newIn, newOut);
    for (auto& change : result.inside)
    {
        change.cueSeconds = clockAt (pair.before.timings, change.oldFrame) - clockAt (pair.before.timings, oldIn);
        if (row.cue.tempo && row.barOne && in.before->reel == out.before->reel)
        {
            const auto& map = *row.cue.tempo;
            const auto reelStart = clockAt (pair.before.timings, framesBefore (pair.before.timings, in.before->reel));
            auto beat = map.beatOf (clockAt (pair.before.timings, change.oldFrame) - reelStart - *row.barOne);
            // To the nearest quarter of a beat, as musicians say it.
            beat = time::Rational (time::roundOf (beat * time::Rational (4))) / time::Rational (4);
            change.bar = music::barBeatText (map.barBeatOf (beat));
        }
    }
    return result;
}

std::string cueName (const Cue& cue)
{
    return "cue " + (cue.number.empty() ? cue.id : cue.number);
}

void findConflicts (const Pair& pair, Carried& all)
{
    for (const auto& row : all.cues)
    {
        const auto &in = row.in.after, &out = row.out.after;
        if (in && out && pair.newDelivered (*out) <= pair.newDelivered (*in))
            all.conflicts.push_back (cueName (row.cue) + " ends before it begins in edition " + all.after);
    }
    for (const auto& row : all.hits)
    {
        if (row.hit.cue.empty() || ! row.place.after)
            continue;
        const auto cue =
            std::find_if (all.cues.begin(), all.cues.end(), [&] (const CarriedCue& c) { return c.cue.id == row.hit.cue; });
        if (cue == all.cues.end() || ! cue->in.after || ! cue->out.after || ! row.place.before || ! cue->in.before
            || ! cue->out.before)
            continue;
        const auto at = pair.newDelivered (*row.place.after), was = pair.oldDelivered (*row.place.before);
        const bool wasInside = was >= pair.oldDelivered (*cue->in.before) && was <= pair.oldDelivered (*cue->out.before);
        if (wasInside && (at < pair.newDelivered (*cue->in.after) || at > pair.newDelivered (*cue->out.after)))
            all.conflicts.push_back ("hit " + row.hit.id + " (" + row.hit.label + ") lies outside " + cueName (cue->cue)
                                     + " in edition " + all.after);
    }
}
} // namespace

std::string_view fateName (Fate fate)
{
    constexpr std::array<std::string_view, 4> names{ "unmoved", "moved", "lost", "back" };
    return names[static_cast<std::size_t> (fate)];
}

Result<Carried> carry (const Book& book, const std::string& before, const std::string& after)
{
    Asked asked;
    asked.edition = before;
    auto old = timesOf (book, asked);
    if (! old)
        return old.error();
    asked.edition = after;
    auto now = timesOf (book, asked);
    if (! now)
        return now.error();
    Pair pair{ std::move (*old), std::move (*now), {}, {} };
    const auto &oldEdition = pair.before.timings.edition(), &newEdition = pair.after.timings.edition();
    pair.changes = film::changeList (oldEdition, newEdition, book.samePictures.list());
    pair.fates = film::shotFates (pair.changes, oldEdition, newEdition);
    Carried all;
    all.before = before;
    all.after = after;
    all.changes = pair.changes;
    const CarriedPlace* last = nullptr;
    all.hits.reserve (pair.before.hits.size());
    for (const auto& row : pair.before.hits)
    {
        CarriedHit hit{ row.hit, carried (pair, row.hit.place), {}, {}, false, "" };
        if (hit.place.fate == Fate::lost)
            hit.lastPicture = row.place;
        else if (hit.place.before && hit.place.after)
        {
            if (last != nullptr)
            {
                hit.interval = hit.place.frames - last->frames;
                hit.intervalDelivered = hit.place.delivered - last->delivered;
                hit.phase = *hit.interval == 0 && *hit.intervalDelivered != 0;
            }
        }
        all.hits.push_back (std::move (hit));
        if (const auto& place = all.hits.back().place; place.before && place.after)
            last = &place;
    }
    for (const auto& row : pair.before.cues)
        all.cues.push_back (carriedCue (pair, row));
    findConflicts (pair, all);
    return all;
}
} // namespace shutterbeat::spotting
