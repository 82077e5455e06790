#pragma once

#include "desk/RecutEdition.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// Film frames of a listed shot that follow one another: of one shot of the old edition, or new.
struct ListedPart
{
    std::optional<std::size_t> old; ///< index in the old edition; none: new pictures
    std::int64_t inShot = 0;        ///< film frames from that shot's head
    std::int64_t frames = 0;

    friend bool operator== (const ListedPart&, const ListedPart&) = default;
};

/// A shot of the next edition as a list tells it.
struct ListedShot
{
    std::string name; ///< for a new one; may be empty
    film::ShotKind kind = film::ShotKind::shot;
    std::vector<ListedPart> parts;        ///< none for a made one
    std::optional<time::Rational> made;   ///< exact seconds of a made one
    std::optional<std::size_t> standsFor; ///< the old shot it comes in place of, none of whose pictures it has
    bool standsSurely = true;             ///< the list says so; else somebody has to decide
};

/// Makes the next edition of a book from the shots that a list tells, in order. Pictures that the old edition has stay those of
/// its prints, so that all that is pinned to them is carried. What is new becomes a print whose pictures are to come. A shot keeps
/// its id, name, kind and speed where its pictures, or its successor, are there. Error: no such edition, no shot; as
/// spotting::takeIds.
Result<RecutMade> editionFromListed (const spotting::Book& book, const std::string& before, const std::vector<ListedShot>& shots);
} // namespace shutterbeat::desk
