#pragma once

#include "spotting/Book.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// A wording read for a card.
struct CardReading
{
    std::string shot; ///< id
    CardText text;
};

/// What withReadings changed, for the user.
struct CardsRead
{
    Book book;
    int taken = 0;    ///< became the card's wording
    int kept = 0;     ///< read, but another wording stands
    int doubtful = 0; ///< of all that were read
};

// Whenever a card's wording changes, hits that the scan proposed on its head and nobody has touched take it as their label.

/// Takes over readings: each replaces what was read before from the same print in the same languages. It becomes the wording
/// of a card of that print that has none yet, or has one from an earlier reading of that print unless that was surer; an
/// empty reading is kept as such. Error: a shot that no edition has, or that is no card.
Result<CardsRead> withReadings (const Book& book, const std::vector<CardReading>& readings);

/// A wording from a person, which becomes the card's in every edition that has it; `print` and `language` say whose it is.
/// Empty text: the card has no wording. Error: as withReadings.
Result<Book> setCardWording (const Book& book, const std::string& shot, const std::string& text, const std::string& print = "",
                             const std::string& language = "");

/// A further wording that is kept beside the chosen one, from a person. Error: as withReadings; empty text.
Result<Book> addCardWording (const Book& book, const std::string& shot, const CardText& text);

/// The `number`th wording (from 1) of the register becomes the card's, without doubt now. Error: as withReadings; no such wording.
Result<Book> chooseCardWording (const Book& book, const std::string& shot, std::size_t number);

/// Removes the `number`th wording, or all of them and the card's wording with none given. The card itself stays. Error: as
/// chooseCardWording.
Result<Book> removeCardWording (const Book& book, const std::string& shot, std::optional<std::size_t> number);

/// What the register knows of a card, or null.
const Card* cardOf (const Book& book, const std::string& shot);

/// The entry of the register that is the wording a shot has, or null: none has it, or a person gave it elsewhere.
const CardText* chosenText (const Book& book, const film::Shot& shot);

/// A card's wording as a label: a doubtful one carries " (?)". "" without one.
std::string cardLabel (const Book& book, const film::Shot& shot);

/// The wording of the card that begins at a place (at its head, or at the tail of the shot before it), as cardLabel: what a
/// cue that goes out there plays until. "" when no card with a wording begins there.
std::string untilText (const Book& book, const film::Edition& edition, const film::Place& place);
} // namespace shutterbeat::spotting
