#include "spotting/CardRemedy.h"

#include "spotting/CardRegister.h"
#include "time/Clock.h"

#include <algorithm>

namespace shutterbeat::spotting
{
namespace
{
using time::Rational;

constexpr std::size_t mostWays = 3;
constexpr std::size_t mostCards = 4; // in one way

Rational magnitude (const Rational& x)
{
    return x.sign() < 0 ? -x : x;
}

/// The clock of a film frame counted over all reels.
Rational clockOfFrame (const film::Timings& timings, std::int64_t frame)
{
    for (std::size_t r = 0; r < timings.reelCount(); ++r)
    {
        const auto frames = timings.filmTime (r).frames();
        if (frame < frames || r + 1 == timings.reelCount())
        {
            const auto at = timings.atFilmFrame (std::min (frame, frames), r);
            return at ? wholeClock (timings, timings.times (*at)) : Rational (0);
        }
        frame -= frames;
    }
    return {};
}

/// A card and by how many seconds of film time it would change.
struct Step
{
    const StretchableCard* card = nullptr;
    Rational seconds;
    std::int64_t hitsOff = 0;
};

/// As much of what is needed as the card has room for; whole film frames of a photographed one.
Rational roomFor (const StretchableCard& card, const Rational& needed)
{
    const auto room = needed.sign() < 0 ? card.least - card.as.was : card.most - card.as.was;
    const auto all = magnitude (needed) <= magnitude (room) ? needed : room;
    if (card.made)
        return all;
    // What is needed to the nearest film frame, but never beyond the room.
    const auto frames = all * card.speed;
    auto whole = time::roundOf (frames);
    const auto most = room * card.speed;
    if (needed.sign() < 0 ? Rational (whole) < most : Rational (whole) > most)
        whole += needed.sign() < 0 ? 1 : -1;
    return Rational (whole) / card.speed;
}

class Ways
{
public:
    Ways (const CardCosts& cardCosts, const Rational& wanted, const Rational& perFilmSecond)
        : costs (cardCosts)
        , needed (wanted)
        , stretch (perFilmSecond)
    {
    }

    /// Whether the cards together leave no more than half a film frame.
    [[nodiscard]] bool enough (const std::vector<Step>& steps) const
    {
        Rational sum;
        Rational halfFrame;
        for (const auto& step : steps)
        {
            sum += step.seconds;
            halfFrame = std::max (halfFrame, Rational (1, 2) / step.card->speed);
        }
        return magnitude (needed - sum) <= halfFrame;
    }

    [[nodiscard]] Remedy remedyOf (const std::vector<Step>& steps) const
    {
        Remedy remedy;
        remedy.kind = RemedyKind::cards;
        Rational sum;
        for (const auto& step : steps)
        {
            const auto& card = *step.card;
            sum += step.seconds;
            CardChange change = card.as;
            change.becomes = change.was + step.seconds;
            change.frames = card.made ? 0 : time::roundOf (step.seconds * card.speed);
            remedy.cost += costs.card + costs.length * time::toDouble (magnitude (step.seconds) / change.was);
            remedy.hitsOff = std::max (remedy.hitsOff, step.hitsOff);
            remedy.text += (remedy.text.empty() ? "" : "; ") + textOf (change);
            remedy.cards.push_back (std::move (change));
        }
        remedy.cost += costs.hitOff * static_cast<double> (remedy.hitsOff);
        remedy.left = (needed - sum) * stretch;
        remedy.text += remedy.hitsOff == 0 ? "; the music stands as it is"
                                           : "; the music stands from there on, with " + std::to_string (remedy.hitsOff)
                                                 + (remedy.hitsOff == 1 ? " hit" : " hits") + " between left beside it";
        return remedy;
    }

private:
    static std::string textOf (const CardChange& change)
    {
        const auto by = change.becomes - change.was;
        std::string text = "card " + change.name + (by.sign() < 0 ? " shorter by " : " longer by ");
        text += change.frames == 0 ? time::secondsText (magnitude (by)) + " s"
                                   : std::to_string (std::abs (change.frames)) + " film frames";
        text += " (" + time::secondsText (change.was) + " s to " + time::secondsText (change.becomes) + " s";
        if (by.sign() < 0 && ! change.rules.empty())
            text += ", still long enough by the rule \"" + std::string (readingRuleName (change.rules.front())) + "\"";
        return text + ")";
    }

    const CardCosts& costs;
    Rational needed, stretch;
};
} // namespace

time::Rational wholeClock (const film::Timings& timings, const film::PlaceTimes& at)
{
    Rational clock = at.clock;
    for (std::size_t r = 0; r < at.reel; ++r)
        clock += timings.clockOf (timings.deliveredLength (r));
    return clock;
}

std::vector<StretchableCard> stretchableCards (const Book& book, const film::Timings& timings)
{
    std::vector<StretchableCard> cards;
    for (const auto& row : cardRows (book, timings))
    {
        StretchableCard card;
        card.as.shot = row.shot;
        card.as.name = row.card.name;
        card.as.wording = row.card.wording;
        card.as.was = card.as.becomes = row.seconds;
        card.speed = row.speed;
        card.made = row.card.made.has_value();
        card.tail = wholeClock (timings, timings.times (timings.shotHead (row.shot + 1)));
        card.least = row.seconds;
        card.most = row.seconds * Rational (3, 2);
        Rational strictest;
        for (const auto& rule : row.readable)
        {
            card.most = std::max (card.most, rule.needed);
            if (! rule.enough)
                continue;
            card.as.rules.push_back (rule.rule);
            strictest = std::max (strictest, rule.needed);
        }
        if (! card.as.rules.empty())
            card.least = strictest;
        cards.push_back (std::move (card));
    }
    return cards;
}

void addCardRemedies (const std::vector<StretchableCard>& cards, const BookTimes& now, const Carried& carried,
                      const CarriedCue& cue, const InsideChange& change, const CardCosts& costs, InsideRemedies& remedies)
{
    const auto& timings = now.timings;
    const auto stretch = timings.delivery().countingRate() / timings.delivery().rate.perSecond;
    const auto needed = -change.seconds / stretch;
    const auto from = clockOfFrame (timings, change.newFrame), to = clockOfFrame (timings, change.newFrame + change.in);
    const auto in = wholeClock (timings, *cue.in.after), out = wholeClock (timings, *cue.out.after);
    std::vector<Rational> hits;
    for (const auto& hit : carried.hits)
        if (hit.hit.cue == cue.cue.id && hit.place.before && hit.place.after && hit.hit.weight != Weight::may)
            hits.push_back (wholeClock (timings, *hit.place.after));
    std::vector<Step> steps;
    std::size_t held = 0;
    for (const auto& card : cards)
    {
        if (card.tail <= in || card.tail > out)
            continue;
        const auto room = roomFor (card, needed);
        if (room.sign() == 0)
        {
            ++held;
            continue;
        }
        const auto low = card.tail < from ? card.tail : to, high = card.tail < from ? from : card.tail;
        steps.push_back (
            { &card, room, std::count_if (hits.begin(), hits.end(), [&] (const Rational& h) { return h >= low && h < high; }) });
    }
    if (steps.empty())
    {
        remedies.notes.push_back (held == 0
                                      ? "no card lies in the cue that could be made longer or shorter"
                                      : "the cards of the cue stand no longer than their wordings need, or have none in the book");
        return;
    }
    const Ways ways (costs, needed, stretch);
    std::vector<Remedy> found;
    for (const auto& step : steps)
        if (ways.enough ({ step }))
            found.push_back (ways.remedyOf ({ step }));
    if (found.empty())
    {
        // As few as will do: those with the most room first, and none with a hit between where that is enough.
        std::stable_sort (steps.begin(), steps.end(),
                          [] (const Step& a, const Step& b)
                          {
                              if (a.hitsOff != b.hitsOff)
                                  return a.hitsOff < b.hitsOff;
                              return magnitude (a.seconds) > magnitude (b.seconds);
                          });
        std::vector<Step> together;
        Rational left = needed;
        for (auto step : steps)
        {
            step.seconds = roomFor (*step.card, left);
            if (step.seconds.sign() == 0 || together.size() >= mostCards)
                break;
            left -= step.seconds;
            together.push_back (step);
            if (ways.enough (together))
                break;
        }
        if (ways.enough (together))
            found.push_back (ways.remedyOf (together));
        else
            remedies.notes.push_back ("the cards of the cue have room for "
                                      + time::secondsText (magnitude (needed - left) * stretch) + " s of "
                                      + time::secondsText (magnitude (change.seconds)) + " s");
    }
    std::stable_sort (found.begin(), found.end(), [] (const Remedy& a, const Remedy& b) { return a.cost < b.cost; });
    if (found.size() > mostWays)
        found.resize (mostWays);
    std::move (found.begin(), found.end(), std::back_inserter (remedies.ways));
}
} // namespace shutterbeat::spotting
