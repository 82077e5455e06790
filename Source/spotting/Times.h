#pragma once

#include "spotting/Book.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// A hit with all its times, or the reason why this edition has no place for it.
struct HitTimes
{
    HitPoint hit;
    std::optional<film::PlaceTimes> at; ///< none: lost in this edition
    std::string lost;                   ///< why, when `at` is none
    std::string place;                  ///< as places are written: "edge:anna-3.head+0"
};

/// A cue with its times and its hits. A hit belongs to the cue it names, wherever it lies.
struct CueTimes
{
    Cue cue;
    std::optional<film::PlaceTimes> in, out;
    std::string lost;                     ///< why in or out is none
    std::vector<std::size_t> hits;        ///< indices into BookTimes::hits, in time order
    std::optional<time::Rational> length; ///< clock seconds from in to out, within one reel
    std::optional<time::Rational> barOne; ///< clock of bar 1 beat 1; none without a tempo map, or when its pin is lost
    std::string barOneLost;               ///< why, where the cue has a tempo map
    std::string until;                    ///< wording of the card that begins where it goes out; "" when none does
};

/// Everything a list or sheet shows of a book, computed once. Hits and cues in time order; lost ones last, in book order.
struct BookTimes
{
    film::Timings timings;
    std::vector<HitTimes> hits;
    std::vector<CueTimes> cues;
    std::vector<std::string> notes; ///< for the user: labels that moved, film frames not shown, lost hits
};

/// Error: as timingsOf.
Result<BookTimes> timesOf (const Book& book, const Asked& asked = {});

/// The same with timings that are at hand: those of the book's edition and delivery. Rows in `known`, worked out with the same
/// timings, are taken over where the hit's place is still the same, so that an edit among thousands is quick.
BookTimes timesWith (const Book& book, film::Timings timings, std::vector<HitTimes> known);

/// The row of the cue of that id; none: the book has no such cue.
const CueTimes* cueRow (const BookTimes& times, const std::string& id);

/// Clock seconds of a hit from the in of a cue; none when either is lost or they lie in different reels.
std::optional<time::Rational> fromCueStart (const CueTimes& cue, const HitTimes& hit);

/// The tempo a cue begins with, two decimals, with its beat where that is no quarter note: "97.30", "from 80.00 dotted
/// quarter" where the tempo changes. "" until one is chosen.
std::string tempoText (const Cue& cue);

/// How the times were computed, for the head of every list: "18 film frames a second, final rate 29.97df, from:30".
std::string basisText (const film::Timings& timings);

/// How long a reel is and where it starts: "1800 film frames, 2250 delivered frames, 1:30.00, picture starts at 01:00:00:00".
std::string reelText (const film::Timings& timings, std::size_t reel);
} // namespace shutterbeat::spotting
