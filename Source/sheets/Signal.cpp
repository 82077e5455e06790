#include "sheets/Signal.h"

namespace shutterbeat::sheets
{
using time::Rational;

namespace
{
Rational filmMoment (const film::Position& position)
{
    return position.time + position.outsideSeconds;
}
} // namespace

std::optional<Rational> filmSeconds (const film::Timings& timings, const film::Place& from, const film::Place& to)
{
    const auto first = timings.find (from), second = timings.find (to);
    if (! first || ! second || first->reel != second->reel)
        return {};
    return filmMoment (*second) - filmMoment (*first);
}

Signal signalAt (const spotting::BookTimes& times, const film::Place& place)
{
    const auto in = times.timings.find (place);
    if (! in)
        return { "Lost", in.error().message, false };
    if (in->where == film::Position::Where::outside)
        return { in->afterEnd ? "After the last picture" : "Before the first picture", "", false };
    // What a hit there says is what was agreed; else the card or shot itself.
    for (const auto& hit : times.hits)
    {
        if (! hit.at || hit.hit.label.empty())
            continue;
        const auto at = times.timings.find (hit.hit.place);
        if (at && at->reel == in->reel && filmMoment (*at) == filmMoment (*in) && hit.hit.kind != spotting::HitKind::mood)
            return { hit.hit.kind == spotting::HitKind::card  ? "At title"
                     : hit.hit.kind == spotting::HitKind::cut ? "At the cut to"
                                                              : "At action",
                     hit.hit.label, hit.hit.kind == spotting::HitKind::card };
    }
    if (in->where == film::Position::Where::end)
        return { "At the end of the last picture", "", false };
    const auto& shot = times.timings.edition().shots[in->shot];
    const bool head = in->frameInShot == 0 && in->secondsInShot.sign() == 0;
    if (head && shot.kind == film::ShotKind::card)
        return { "At title", shot.wording.empty() ? "card " + shot.name : shot.wording, true };
    if (head && in->filmFrame == 0)
        return { "At the first picture", "", false };
    return { head ? "At the cut to" : "During", "shot " + shot.name, false };
}
} // namespace shutterbeat::sheets
