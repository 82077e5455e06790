#pragma once

#include "film/Unknown.h"

#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// One wording of a card: as it was read from a print, or as somebody wrote it down.
struct CardText
{
    std::string text;
    std::string print;     ///< id of the print it was read from; empty when it is from none
    std::string language;  ///< as whoever read it says: "eng", "dan+eng"; may be empty
    int sure = 1000;       ///< how sure the reading is, thousandths; a person's is 1000
    bool doubtful = false; ///< not to be taken without a look
    bool byHand = false;   ///< written or confirmed by a person: reading again leaves it alone
    film::Unknown unknown;

    friend bool operator== (const CardText&, const CardText&) = default;
};

/// What is known of a card's wordings. Which of them is chosen the shot says: it is the one equal to Shot::wording.
struct Card
{
    std::string shot; ///< id of the card's shot; the same in all editions
    std::vector<CardText> texts;
    film::Unknown unknown;

    friend bool operator== (const Card&, const Card&) = default;
};
} // namespace shutterbeat::spotting
