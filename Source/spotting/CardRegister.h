#pragma once

#include "spotting/Book.h"
#include "spotting/ReadingTime.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// Whether a card stands long enough by one rule.
struct Readable
{
    ReadingRule rule = ReadingRule::footAWord;
    time::Rational needed; ///< seconds
    bool enough = false;
};

/// A card of an edition as the register shows it.
struct CardRow
{
    std::size_t shot = 0; ///< index into the edition's shots
    film::Shot card;
    film::PlaceTimes head;          ///< its first frame
    std::optional<CardText> chosen; ///< how its wording came about; none: none, or a person gave it as the shot's wording
    std::vector<CardText> texts;    ///< all the register has, numbered from 1
    time::Rational speed;           ///< running speed, film frames a second
    time::Rational seconds;         ///< how long it stands at its running speed; a made one's own length
    time::Rational feet;            ///< of the print's gauge; a made card's as 35 mm at its running speed
    int words = 0;
    bool flash = false;             ///< one to four film frames: a flash title, to be made longer
    std::vector<Readable> readable; ///< by every rule; empty without a wording
};

/// A few frames of a card that old prints keep in place of all of it: at most this many film frames.
constexpr std::int64_t longestFlash = 4;

/// The cards of the edition that `timings` are of, in order.
std::vector<CardRow> cardRows (const Book& book, const film::Timings& timings);
} // namespace shutterbeat::spotting
