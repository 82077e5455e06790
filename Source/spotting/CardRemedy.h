#pragma once

#include "spotting/Remedies.h"

#include <vector>

namespace shutterbeat::spotting
{
/// Delivered seconds from the first picture start of an edition, all reels laid end to end.
time::Rational wholeClock (const film::Timings& timings, const film::PlaceTimes& at);

/// A card of an edition and how far its tail may go.
struct StretchableCard
{
    CardChange as;              ///< as it is: becomes equals was
    time::Rational tail;        ///< delivered seconds from picture start to its tail, all reels end to end
    time::Rational least, most; ///< seconds it may stand
    time::Rational speed;       ///< film frames a second
    bool made = false;
};

/// The cards of the edition that `timings` are of, with the room that their reading rules leave.
std::vector<StretchableCard> stretchableCards (const Book& book, const film::Timings& timings);

/// Adds the ways to take back a change inside a cue by cards of that cue: one card, else as few as will do; those with no hit
/// between the change and the card first. `now`: the new edition.
void addCardRemedies (const std::vector<StretchableCard>& cards, const BookTimes& now, const Carried& carried,
                      const CarriedCue& cue, const InsideChange& change, const CardCosts& costs, InsideRemedies& remedies);
} // namespace shutterbeat::spotting
