#include "spotting/Remedies.h"

#include "spotting/CardRemedy.h"
#include "time/Clock.h"

#include <algorithm>
#include <cstdlib>

namespace shutterbeat::spotting
{
namespace
{
using time::Rational;

constexpr std::size_t mostWays = 4; // of music

/// The hits of a cue on either side of a change, which have to stay met, by their old clock.
struct Between
{
    std::optional<Rational> before, after; ///< none: the cue's own end
};

Between hitsRound (const BookTimes& old, const Carried& carried, const CarriedCue& cue, const Rational& change)
{
    Between found;
    for (const auto& hit : carried.hits)
    {
        if (hit.hit.cue != cue.cue.id || ! hit.place.before || ! hit.place.after || hit.hit.weight == Weight::may)
            continue;
        const auto clock = wholeClock (old.timings, *hit.place.before);
        if (clock < change && (! found.before || clock > *found.before))
            found.before = clock;
        if (clock >= change && (! found.after || clock < *found.after))
            found.after = clock;
    }
    return found;
}

/// The bar that a moment lies in, or begins with it to a quarter of a beat.
std::int64_t barAt (const music::TempoMap& map, const Rational& fromBarOne)
{
    const auto beat = Rational (time::roundOf (map.beatOf (fromBarOne) * Rational (4))) / Rational (4);
    return map.barBeatOf (beat).bar;
}

std::string barsText (std::int64_t first, std::int64_t end)
{
    return end - first == 1 ? "bar " + std::to_string (first)
                            : "bars " + std::to_string (first) + " to " + std::to_string (end - 1);
}

/// "3 beats fewer: "; nothing where none comes or goes.
std::string beatsText (int beats)
{
    const auto count = std::abs (beats);
    return count == 0 ? "" : std::to_string (count) + (count == 1 ? " beat " : " beats ") + (beats > 0 ? "more: " : "fewer: ");
}

/// What players and writers can do.
class MusicWays
{
public:
    MusicWays (const BookTimes& oldTimes, const CarriedCue& carriedCue, const music::BarCosts& bar, const CardCosts& card)
        : old (oldTimes)
        , cue (carriedCue)
        , barCosts (bar)
        , cardCosts (card)
    {
    }

    void add (const InsideChange& change, const Between& between, InsideRemedies& remedies) const
    {
        const bool played =
            cue.cue.status == CueStatus::recorded || cue.cue.status == CueStatus::placed || cue.cue.status == CueStatus::approved;
        const auto* row = cueRow (old, cue.cue.id);
        Remedy again;
        again.text = played ? "play it again" : "write it anew";
        if (! cue.cue.tempo || row == nullptr || ! row->barOne || ! cue.in.before || ! cue.out.before)
        {
            again.cost = cardCosts.again + cardCosts.againBar * 8;
            again.text += " from " + time::clockText (change.cueSeconds) + " on";
            remedies.notes.push_back ("it has no tempo yet, so that no bars can be named");
            remedies.ways.push_back (std::move (again));
            return;
        }
        const auto& map = *cue.cue.tempo;
        const auto in = wholeClock (old.timings, *cue.in.before), out = wholeClock (old.timings, *cue.out.before);
        const auto barOne = in + (*row->barOne - cue.in.before->clock);
        const auto from = std::max (in, between.before.value_or (in));
        // The bar after the hit before, to the bar that the next hit lies in: that and all behind it moves with the picture.
        const auto firstOf = [&] (const Rational& clock)
        {
            const auto bar = barAt (map, clock - barOne);
            return map.timeOf (map.barStart (bar)) + Rational (1, 100) < clock - barOne ? bar + 1 : bar;
        };
        const auto first = std::max<std::int64_t> (1, firstOf (from));
        const auto end = between.after ? barAt (map, *between.after - barOne) : firstOf (out);
        const auto changeBar = barAt (map, in + change.cueSeconds - barOne);
        again.firstBar = std::min (first, changeBar);
        again.endBar = std::max (end, changeBar + 1);
        again.cost = cardCosts.again + cardCosts.againBar * static_cast<double> (again.endBar - again.firstBar);
        again.text += ": " + barsText (again.firstBar, again.endBar);
        music::RefitWish wish;
        wish.firstBar = first;
        wish.endBar = end;
        wish.change = change.seconds;
        wish.frame = Rational (1) / old.timings.delivery().rate.perSecond;
        wish.costs = barCosts;
        const auto ways = music::refitWays (map, wish);
        if (ways)
            addWays (map, wish, *ways, remedies);
        else
            remedies.notes.push_back ("no bar or beat can be cut, added or nudged: " + ways.error().text());
        remedies.ways.push_back (std::move (again));
    }

private:
    /// The best of each sort, so that a choice is seen and not ten shades of one: a nudge beside the same bars only where it lands
    /// nearer than they do by themselves.
    void addWays (const music::TempoMap& map, const music::RefitWish& wish, const std::vector<music::RefitWay>& ways,
                  InsideRemedies& remedies) const
    {
        std::vector<const music::RefitWay*> told;
        for (const auto& way : ways)
        {
            const auto better = [&] (const music::RefitWay* other)
            {
                return other->barsIn == way.barsIn && other->beatsInBar == way.beatsInBar
                       && (way.nudgeBeats == 0 || other->nudgeBeats > 0
                           || std::abs (other->leftFrames) <= std::abs (way.leftFrames));
            };
            if (told.size() >= mostWays || std::any_of (told.begin(), told.end(), better))
                continue;
            told.push_back (&way);
            Remedy remedy;
            remedy.kind = RemedyKind::music;
            remedy.cost = way.cost();
            remedy.text = beatsText (way.beats) + music::wayText (way, map);
            if (way.bars.empty())
                remedy.text += ", within " + barsText (wish.firstBar, wish.endBar);
            remedy.left = Rational (way.leftFrames) * wish.frame;
            remedy.way = way;
            remedy.firstBar = wish.firstBar;
            remedy.endBar = wish.endBar;
            remedies.ways.push_back (std::move (remedy));
        }
    }

    const BookTimes& old;
    const CarriedCue& cue;
    const music::BarCosts& barCosts;
    const CardCosts& cardCosts;
};
} // namespace

std::string_view remedyKindName (RemedyKind kind)
{
    return kind == RemedyKind::cards ? "cards" : kind == RemedyKind::music ? "music" : "again";
}

Result<std::vector<InsideRemedies>> remediesOf (const Book& book, const Carried& carried, const music::BarCosts& barCosts,
                                                const CardCosts& cardCosts)
{
    Asked asked;
    asked.edition = carried.before;
    const auto old = timesOf (book, asked);
    if (! old)
        return old.error();
    asked.edition = carried.after;
    const auto now = timesOf (book, asked);
    if (! now)
        return now.error();
    const auto cards = stretchableCards (book, now->timings);
    const auto frame = Rational (1) / book.delivery.rate.perSecond;
    std::vector<InsideRemedies> all;
    for (std::size_t c = 0; c < carried.cues.size(); ++c)
    {
        const auto& cue = carried.cues[c];
        if (cue.cue.kind == CueKind::tacet || ! cue.in.before || ! cue.in.after || ! cue.out.after)
            continue;
        for (std::size_t i = 0; i < cue.inside.size(); ++i)
        {
            const auto& change = cue.inside[i];
            // Exchanged pictures of the same length leave the music where it was, to three quarters of a frame.
            const auto amount = change.seconds.sign() < 0 ? -change.seconds : change.seconds;
            if (amount < frame * Rational (3, 4))
                continue;
            InsideRemedies remedies;
            remedies.cue = c;
            remedies.change = i;
            const auto at = wholeClock (old->timings, *cue.in.before) + change.cueSeconds;
            addCardRemedies (cards, *now, carried, cue, change, cardCosts, remedies);
            MusicWays (*old, cue, barCosts, cardCosts).add (change, hitsRound (*old, carried, cue, at), remedies);
            std::stable_sort (remedies.ways.begin(), remedies.ways.end(),
                              [] (const Remedy& a, const Remedy& b) { return a.cost < b.cost; });
            all.push_back (std::move (remedies));
        }
    }
    return all;
}
} // namespace shutterbeat::spotting
