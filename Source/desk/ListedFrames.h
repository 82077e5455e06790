#pragma once

#include "film/Timings.h"
#include "spotting/Book.h"

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

namespace shutterbeat::desk
{
/// What a frame of a list is.
enum class ListCounts
{
    filmFrames,
    delivered, ///< delivered frames at the book's final rate
    fileFrames ///< frames of the file that the old edition is all of
};

/// "film", "delivered", "file". Error: none of these.
Result<ListCounts> parseListCounts (std::string_view text);

/// A film frame of the old edition by its shot; in a made one a frame of the list from its head.
struct OldFrame
{
    std::size_t shot = 0;
    std::int64_t inShot = 0;

    friend bool operator== (const OldFrame&, const OldFrame&) = default;
};

/// The old edition as its list counts it, and film frames a frame of the list where pictures are new.
struct OldEdition
{
    ListCounts counts = ListCounts::filmFrames;
    std::vector<OldFrame> frames;
    time::Rational filmAFrame{ 1 };
    time::Rational secondsAFrame{ 1 }; ///< of film time
};

/// The edition that `timings` are of as a list of so many frames counts it: as `wanted`, else whichever is exactly as long.
/// Error: none is.
Result<OldEdition> oldEdition (const spotting::Book& book, const film::Timings& timings, std::int64_t length,
                               const time::Rate& rate, std::optional<ListCounts> wanted);
} // namespace shutterbeat::desk
