#include "desk/RenderPlan.h"

#include "time/Timecode.h"

#include <algorithm>

namespace shutterbeat::desk
{
bool RenderedFrame::looksLike (const RenderedFrame& other) const
{
    if (kind != other.kind || kind == Kind::leader)
        return false;
    if (kind == Kind::film)
        return print == other.print && reelFile == other.reelFile && fileFrame == other.fileFrame;
    return kind != Kind::card || shot == other.shot;
}

Result<RenderPlan> RenderPlan::of (const film::Timings& timings, std::size_t reel, int leaderSeconds, bool pop)
{
    if (reel >= timings.reelCount())
        return usageError ("reel " + std::to_string (reel + 1),
                           "edition " + timings.edition().letter + " has " + std::to_string (timings.reelCount()) + " reel(s)");
    if (leaderSeconds < 0 || leaderSeconds > 60)
        return usageError ("leader " + std::to_string (leaderSeconds), "can't be had; choose 0 to 60 seconds");
    if (pop && leaderSeconds == 0)
        leaderSeconds = 10;
    if (pop && leaderSeconds < 3)
        return usageError ("leader " + std::to_string (leaderSeconds),
                           "leaves no room for the pop two seconds before the picture; choose 3 seconds or more");

    RenderPlan plan (timings, reel);
    const auto& delivery = timings.delivery();
    const auto counting = delivery.countingRate();
    const bool labels = time::hasTimecode (delivery.rate);
    plan.length = timings.deliveredLength (reel);
    plan.longest = std::max (1, leaderSeconds);
    plan.inSecond = static_cast<int> (std::max<std::int64_t> (1, time::roundOf (counting)));
    plan.leader = labels ? std::int64_t (leaderSeconds) * time::labelsPerSecond (delivery.rate)
                         : time::roundOf (time::Rational (leaderSeconds) * delivery.rate.perSecond);
    if (pop)
    {
        const auto away = film::deliveredFrame (time::Rational (2), counting);
        plan.before = film::deliveredFrame (time::Rational (-2), counting);
        plan.after = plan.length + away;
        plan.tail = away + plan.inSecond;
    }
    return plan;
}

std::string RenderPlan::startLabel() const
{
    const auto& rate = timings->delivery().rate;
    return time::hasTimecode (rate) ? time::labelOf (timings->startCount (reel) - leader, rate).text : "";
}

Result<RenderedFrame> RenderPlan::at (std::int64_t i) const
{
    RenderedFrame frame;
    const auto delivered = i - leader;
    if (delivered >= 0 && delivered < length)
        return picture (delivered);
    frame.delivered = delivered;
    if (delivered == before || delivered == after)
        frame.kind = RenderedFrame::Kind::pop;
    else if (delivered < before.value_or (0))
    {
        // Second n begins n seconds before picture start, counted as the pop is. A leader a little longer than its whole
        // seconds waits at the first number.
        frame.kind = RenderedFrame::Kind::leader;
        const auto counting = timings->delivery().countingRate();
        frame.second = static_cast<int> (std::min<std::int64_t> (longest, time::ceilOf (time::Rational (-delivered) / counting)));
        frame.frameOfSecond = static_cast<int> (
            std::max<std::int64_t> (0, delivered - film::deliveredFrame (time::Rational (-frame.second), counting)));
    }
    return frame;
}

Result<RenderedFrame> RenderPlan::source (RenderedFrame frame, const std::string& print, std::int64_t sourceFrame) const
{
    const auto* from = timings->print (print);
    if (from == nullptr)
        return usageError ("print " + print, "the book does not have it");
    const auto in = film::reelFrameOf (*from, sourceFrame);
    if (! in)
        return in.error();
    frame.kind = RenderedFrame::Kind::film;
    frame.print = print;
    frame.reelFile = in->reel;
    frame.fileFrame = in->fileFrame;
    return frame;
}

Result<RenderedFrame> RenderPlan::picture (std::int64_t delivered) const
{
    const auto shown = timings->pictureAt (delivered, reel);
    if (! shown)
        return shown.error();
    RenderedFrame frame;
    frame.delivered = delivered;
    const auto& shots = timings->edition().shots;
    const auto& shot = shots[shown->shot];
    frame.filmFrame = shown->filmFrame;
    if (! shown->made)
        return source (frame, shot.print, *shown->sourceFrame);
    frame.filmFrame.reset();
    frame.shot = shown->shot;
    if (shot.kind == film::ShotKind::black)
        return frame;
    if (shot.kind == film::ShotKind::card)
    {
        frame.kind = RenderedFrame::Kind::card;
        return frame;
    }
    // A made shot is a freeze: its own picture where it names one, else the last photographed one before it.
    if (timings->print (shot.print) != nullptr)
        return source (frame, shot.print, shot.first);
    for (auto i = shown->shot; i > 0; --i)
        if (const auto& earlier = shots[i - 1]; ! earlier.made)
            return source (frame, earlier.print, earlier.end - 1);
    return frame;
}
} // namespace shutterbeat::desk
