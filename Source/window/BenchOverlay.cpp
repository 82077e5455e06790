#include "play/Reels.h"
#include "window/Bench.h"

namespace shutterbeat::window
{
void Bench::setOverlay (const OverlayWish& wish)
{
    const auto before = theOverlay;
    const bool newMarks =
        (wish.streamers && ! before.streamers) || (wish.punches && ! before.punches) || (wish.flashes && ! before.flashes);
    if (newMarks && ! cautionRead)
        return ask ({ "Before marks are shown",
                      std::string (overlay::flashCaution) + " Streamers, punches and flashes stay off until you have read this.",
                      { { "stay", "Leave them off", {} },
                        { "read", "I have read it: show them",
                          [this, wish]
                          {
                              cautionRead = true;
                              setOverlay (wish);
                          } } } });
    theOverlay = wish;
    plan.reset();
    if (wish.marks() && ! planned())
        theOverlay = before;
    if (onCommand)
        onCommand();
    changed();
}

/// Must hits get a streamer of three seconds, should hits one of two; punches and flashes are for must hits.
bool Bench::planned()
{
    plan = overlay::MarkPlan();
    if (! bookTimes)
        return true;
    std::vector<overlay::HitMarks> all;
    for (const auto& row : bookTimes->hits)
    {
        if (! row.at || row.hit.weight == spotting::Weight::may)
            continue;
        const bool must = row.hit.weight == spotting::Weight::must;
        overlay::HitMarks marks;
        marks.delivered = play::deliveredBefore (bookTimes->timings, row.at->reel) + row.at->delivered;
        marks.streamer = ! theOverlay.streamers ? 0 : must ? 3 : 2;
        marks.punch = theOverlay.punches && must;
        marks.flash = theOverlay.flashes && must;
        marks.weight = must ? 0 : 1;
        all.push_back (marks);
    }
    auto made = overlay::planMarks (all, bookTimes->timings.delivery().rate.perSecond, cautionRead);
    if (! made)
    {
        complain (made.error().text());
        return false;
    }
    plan = std::move (*made);
    return true;
}

const overlay::MarkPlan& Bench::markPlan()
{
    if (! plan && ! planned())
    {
        // What the hits have become breaks the flash rule: the marks that can go on do.
        theOverlay.flashes = false;
        if (! planned())
            theOverlay.streamers = theOverlay.punches = false;
    }
    return *plan;
}
} // namespace shutterbeat::window
