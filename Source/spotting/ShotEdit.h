#pragma once

#include "spotting/Edit.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// Corrections of the scan by hand. A cut is a fact of the print, so it is made, moved or taken back wherever an edition
/// uses those pictures; every hit and cue keeps its picture or its cut. Shots that a person has touched are locked.

/// Cuts a print at a source film frame: that frame begins a shot of its own. The earlier part keeps the shot's id, the later
/// gets a new one of that person (Edited::ids, one entry). Error: no edition shows the frame inside a shot (it is a head
/// already, or not used), or a person id that Edit.h refuses.
Result<Edited> splitShot (const Book& book, const std::string& person, const std::string& print, std::int64_t filmFrame);

/// Joins a shot to the one before it: there is no cut between them. Error: no such shot; the first of a reel or of the
/// edition; a made one; pictures that do not follow each other in one print; an edition that uses them apart.
Result<Book> joinShot (const Book& book, const std::string& edition, const std::string& shot);

/// Moves the cut at a shot's head by film frames, later above zero. Error: as joinShot, and when one of the two would be
/// left without pictures.
Result<Book> moveCut (const Book& book, const std::string& edition, const std::string& shot, std::int64_t filmFrames);

/// What a person says of a shot; what is not given stays.
struct ShotWords
{
    std::optional<film::ShotKind> kind;
    std::optional<std::string> name, wording;
    std::optional<std::optional<time::Rational>> speed; ///< running speed of its own; the inner none: the edition's
    std::optional<bool> locked;                         ///< none: locked when its kind is given
    std::optional<bool> remade;                         ///< whether it takes the place of one that was otherwise
    std::optional<std::string> reason;                  ///< why it was made, remade or taken from this print
};

/// Changes shots of an edition. Kind, name, wording and lock are the shot's wherever it is used; the speed, whether
/// it is remade and the reason are this edition's. Error: no such edition or shot, a speed that is not above zero; then nothing is
/// changed.
Result<Book> setShots (const Book& book, const std::string& edition, const std::vector<std::string>& shots, const ShotWords& words);

/// A shot of an edition by its id or, when only one has it, its name. Error: none, or several of that name.
Result<std::string> shotNamed (const film::Edition& edition, const std::string& idOrName);

/// A book after a new scan of a print, and what it changed, for the user.
struct Rescanned
{
    Book book;
    int split = 0, joined = 0, moved = 0, retyped = 0;
};

/// Takes over a new scan of a print (all its shots in order): cuts come, go and move where no locked shot lies on either side
/// of them; locked shots stay as they are. Error: no such print; as splitShot for the person.
Result<Rescanned> withNewScan (const Book& book, const std::string& person, const std::string& print,
                               const std::vector<film::ScannedShot>& found);
} // namespace shutterbeat::spotting
