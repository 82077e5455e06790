#pragma once

#include "film/Delivery.h"
#include "film/Edition.h"
#include "film/FilmTime.h"
#include "film/Place.h"
#include "film/Print.h"
#include "film/SamePictures.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::film
{
/// A spot of an edition, found from a place or a typed place.
struct Position
{
    enum class Where
    {
        picture, ///< a film frame
        made,    ///< inside a made card, freeze or black
        end,     ///< picture end: one past the last
        outside  ///< before picture start or after picture end
    };
    Where where = Where::picture;
    std::size_t reel = 0;
    std::size_t shot = 0;          ///< index in the edition; the last one at the end and outside
    std::int64_t filmFrame = 0;    ///< from picture start of the reel; in a made one: the next photographed one
    std::int64_t frameInShot = 0;  ///< picture only
    time::Rational secondsInShot;  ///< made only
    time::Rational time;           ///< film time T from picture start of the reel; outside: T of the anchor
    time::Rational outsideSeconds; ///< outside only: from the anchor, in delivered time
    bool afterEnd = false;         ///< outside only
};

/// Every way to say when a position is seen. All exact; rounding is for whoever prints it.
struct PlaceTimes
{
    std::size_t reel = 0;
    std::int64_t filmFrame = 0;              ///< from picture start of the reel
    std::optional<std::int64_t> sourceFrame; ///< film frame of its print
    std::optional<std::int64_t> fileFrame;   ///< first file frame of its reel file that shows it
    std::optional<std::size_t> reelFile;     ///< which file of the print
    std::int64_t delivered = 0;              ///< delivered frame from picture start of the reel
    bool notShown = false;                   ///< film frame that no delivered frame shows (running speed above the rate)
    std::string timecode;                    ///< with "(+1 day)" where it wrapped; empty at a rate without timecode
    time::Rational clock;                    ///< exact seconds from picture start of the reel, as delivered
    std::string feet;                        ///< of the print's gauge, from picture start of the reel
};

/// What a delivered frame shows: a film frame of the reel, or a made one.
struct DeliveredPicture
{
    std::size_t shot = 0;
    bool made = false;
    std::int64_t filmFrame = 0;              ///< of the reel; in a made one: the next photographed one
    std::optional<std::int64_t> sourceFrame; ///< of the shot's print
};

/// An edition with all its times at one final rate and fill. Immutable; rebuilding it is how times change.
class Timings
{
public:
    /// Error: a shot without running speed, a print the edition names but the book has not, a shot longer than its
    /// print, an edition without shots, a rate that does not exist, or sums that overflow.
    /// `same` tells which pictures of other prints are those of this edition's, so that places of any print are found.
    static Result<Timings> of (std::vector<Print> prints, Edition edition, Delivery delivery, std::vector<SamePictures> same = {});

    [[nodiscard]] const Edition& edition() const { return theEdition; }
    [[nodiscard]] const Delivery& delivery() const { return theDelivery; }
    [[nodiscard]] const std::vector<Print>& prints() const { return thePrints; }
    [[nodiscard]] const Print* print (const std::string& id) const;
    /// Sentences for the user: a start label that had to move, and the like.
    [[nodiscard]] const std::vector<std::string>& notes() const { return theNotes; }

    [[nodiscard]] std::size_t reelCount() const { return reels.size(); }
    [[nodiscard]] const FilmTime& filmTime (std::size_t reel = 0) const { return reels[reel].time; }
    /// Delivered frames of a reel: ceil(length * R).
    [[nodiscard]] std::int64_t deliveredLength (std::size_t reel = 0) const;
    /// Label count of the reel's picture start; 0 at a rate without timecode.
    [[nodiscard]] std::int64_t startCount (std::size_t reel = 0) const { return reels[reel].startCount; }
    /// Label of a delivered frame of a reel, "" at a rate without timecode.
    [[nodiscard]] std::string timecodeOf (std::int64_t delivered, std::size_t reel = 0) const;
    /// Exact seconds from picture start at which a delivered frame begins.
    [[nodiscard]] time::Rational clockOf (std::int64_t delivered) const;

    /// Head of a shot, or picture end of the last reel for shots.size().
    [[nodiscard]] Position shotHead (std::size_t shot) const;
    /// Error: the reel has no such film frame (its frame count, one past the last, is picture end).
    [[nodiscard]] Result<Position> atFilmFrame (std::int64_t filmFrame, std::size_t reel = 0) const;
    /// Error: outside 0 to deliveredLength().
    [[nodiscard]] Result<Position> atDelivered (std::int64_t delivered, std::size_t reel = 0) const;
    /// What a delivered frame shows. Error: outside 0 to deliveredLength() - 1.
    [[nodiscard]] Result<DeliveredPicture> pictureAt (std::int64_t delivered, std::size_t reel = 0) const;

    /// Where a kept place lies now. Error: its picture or shot is not in this edition, or the place lies more than a day
    /// outside the picture.
    [[nodiscard]] Result<Position> find (const Place& place) const;
    /// Where a typed place lies. Error: the film does not have it, in one sentence with the range it has.
    [[nodiscard]] Result<Position> find (const TypedPlace& typed) const;

    /// The place to keep for a position: its picture; inside a made one its nearer edge; outside as it is.
    [[nodiscard]] Place placeAt (const Position& position) const;
    /// The place to keep for a typed place: an edge stays an edge, everything else as placeAt. Error: as find.
    [[nodiscard]] Result<Place> placeFor (const TypedPlace& typed) const;
    /// The place as parsePlace reads it back: "film:1000", "edge:anna-3.head+0", "edge:anna-3#2.head+0" for the second use
    /// of that shot, "-4s".
    [[nodiscard]] std::string placeText (const Place& place) const;

    [[nodiscard]] PlaceTimes times (const Position& position) const;

private:
    struct Reel
    {
        FilmTime time;
        std::size_t firstShot = 0;
        std::int64_t startCount = 0;
    };

    [[nodiscard]] std::size_t reelOfShot (std::size_t shot) const;
    [[nodiscard]] Position inShot (std::size_t shot, std::int64_t frame) const;
    [[nodiscard]] Position inMade (std::size_t shot, const time::Rational& seconds) const;
    [[nodiscard]] Result<Position> findEdge (const EdgePlace& place) const;
    [[nodiscard]] Result<Position> findPicture (const PicturePlace& place) const;
    [[nodiscard]] Result<Position> findFileFrame (std::int64_t fileFrame, std::size_t reel) const;
    [[nodiscard]] Result<std::string> shotIdFor (const std::string& idOrName) const;
    [[nodiscard]] Result<EdgePlace> edgeFor (const TypedPlace& typed) const;
    [[nodiscard]] Result<Position> findTimecode (const TypedPlace& typed, std::size_t reel) const;
    [[nodiscard]] Result<Position> findSeconds (const TypedPlace& typed, std::size_t reel) const;
    [[nodiscard]] Result<Position> inMadeChecked (std::size_t shot, const time::Rational& seconds) const;
    [[nodiscard]] Result<std::size_t> reelFor (const TypedPlace& typed) const;
    [[nodiscard]] const time::Gauge& gauge() const;

    std::vector<Print> thePrints;
    Edition theEdition;
    Delivery theDelivery;
    std::vector<SamePictures> theSame;
    std::vector<Reel> reels;
    std::vector<std::string> theNotes;
};
} // namespace shutterbeat::film
