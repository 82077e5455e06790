#pragma once

#include "spotting/Book.h"

#include <functional>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// A book after an edit, and the ids of what it added, in order.
struct Edited
{
    Book book;
    std::vector<std::string> ids;
};

/// Adds hits for a person (made a person of the book when new); their ids are given here. Error: a cue that is not there,
/// a person id that is empty or holds anything but letters, digits and underscores, limits below zero.
Result<Edited> addHits (const Book& book, const std::string& person, std::vector<HitPoint> hits);
/// Replaces the hit of that id. Error: no such hit, or what addHits refuses.
Result<Book> setHit (const Book& book, const HitPoint& hit);
/// Replaces several hits as one edit.
Result<Book> setHits (const Book& book, const std::vector<HitPoint>& hits);
/// Error: an id the book does not have; then nothing is removed.
Result<Book> removeHits (const Book& book, const std::vector<std::string>& ids);

/// As for hits. Error also: an out that is not after its in, where `timings` knows both.
Result<Edited> addCue (const Book& book, const std::string& person, Cue cue, const film::Timings& timings);
Result<Book> setCue (const Book& book, const Cue& cue, const film::Timings& timings);
/// Removes cues; their hits stay and belong to no cue.
Result<Book> removeCues (const Book& book, const std::vector<std::string>& ids);

/// One running speed for the whole edition. Error: no such edition, or a speed that is not above zero.
Result<Book> setRunningSpeed (const Book& book, const std::string& edition, const time::Rational& speed);
Book setDelivery (const Book& book, const film::Delivery& delivery);
Book setTitle (const Book& book, const std::string& title);

/// Hits on the cuts and cards of an edition that have none yet at that edge: a card's head is a card hit with the wording
/// as its label, every other shot's head but the first a cut hit. Weight may, open, edge places, marked as from the scan.
std::vector<HitPoint> proposedHits (const Book& book, const film::Edition& edition);
} // namespace shutterbeat::spotting
