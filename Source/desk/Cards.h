#pragma once

#include "desk/OpenBook.h"
#include "desk/Progress.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// Which cards are to be read, and how.
struct CardsWanted
{
    std::string edition;            ///< letter; empty: the one worked on
    std::vector<std::string> cards; ///< shots of the edition by name or id; none: all
    std::string print;              ///< name or id: only what is photographed in that print; empty: every print
    std::string languages;          ///< "dan+eng"; empty: those the print's cards were read in last, else all installed
    bool again = true;              ///< else only cards that have no wording yet
};

/// A book after its cards were read, and what to tell the user.
struct CardsDone
{
    spotting::Book book;
    int read = 0;     ///< cards
    int taken = 0;    ///< whose wording is new
    int kept = 0;     ///< whose wording stands although another was read
    int doubtful = 0; ///< readings that need a look
    std::vector<std::string> notes;
};

/// Reads the wordings of an edition's photographed cards from their films, and puts them into the register. With a print
/// that the edition does not use its cards are read and laid beside those of the edition: by what they say, or by their
/// order when both have as many (a translation; then each is doubtful until looked at); cards that fit nowhere are named in
/// the notes. Error: as reading::CardReader::open; an edition, card or print that is not there; no card to read; films
/// that can't be read; cancelled.
Result<CardsDone> readCards (const OpenBook& open, const CardsWanted& wanted, const Progress& progress = {});
} // namespace shutterbeat::desk
