#pragma once

#include "scan/Match.h"
#include "spotting/Book.h"

#include <map>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// The cuts of a print as an edition has them where it uses the print, else as the scan found them.
std::vector<film::ScannedShot> cutsOf (const film::Print& print, const film::Edition& edition);

/// The first letter no edition of the book has: A to Z, AA to AZ, BA ...
std::string nextLetter (const spotting::Book& book);

/// Takes over what a person said of a shot: id, name, kind, speed, wording, why it is from where it is.
void follow (film::Shot& shot, const film::Shot& old);

/// What comes of comparing a new print with those an edition is made of.
struct RecutMade
{
    spotting::Book book;
    std::string after;              ///< letter of the new edition
    std::vector<std::string> notes; ///< for the user
};

/// Makes the next edition of a book from all of a print, by what it shares with the prints of an older edition (`matches`, by
/// the id of each). A shot keeps its id, name, kind and speed where its pictures, or its successor, are there; the new print's
/// cuts give way to the old edition's inside a run. What is in doubt waits in Book::recuts; doubtful shots and cards are not
/// taken for the old ones until somebody says so, doubtful frames are. Error: no such edition or print; as spotting::takeIds.
Result<RecutMade> editionFrom (const spotting::Book& book, const std::string& before, const std::string& print,
                               const std::map<std::string, scan::PrintMatch>& matches);
} // namespace shutterbeat::desk
