#pragma once

#include "desk/OpenBook.h"
#include "spotting/ParcelRows.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// What a parcel is to hold, and for whom.
struct ParcelWish
{
    spotting::Asked asked;
    std::string person;              ///< id; who is not in the book yet becomes one of its people
    std::string stamped;             ///< date
    std::vector<std::string> movies; ///< reference movies that are there already, one a reel; empty: they are rendered
    bool movie = true;               ///< false: neither movie nor web page
    int leaderSeconds = 0;           ///< of rendered movies
    bool pop = false;
    std::string preset = "medium"; ///< of their encoder
    bool letter = false;           ///< sheets on Letter paper
};

/// A parcel that was made.
struct MadeParcel
{
    spotting::Book book; ///< with the parcel among those sent; not saved yet
    spotting::Parcel parcel;
    std::vector<std::string> changes; ///< since the last one that person got
    bool first = true;                ///< they never got one
    std::vector<std::string> notes;
};

/// Puts together what a person needs: reference movie, web page, timing notes, cue list, MIDI and MusicXML, clicks, lists, a
/// read-me that begins with what changed since their last parcel, and checksums (as sha256sum -c reads them). A folder, or a zip
/// when `path` ends in .zip. Whole or not at all; what a rate can't have is left out and said. Error: something of that name is
/// there already; as the parts.
Result<MadeParcel> makeParcel (const OpenBook& open, const std::string& path, const ParcelWish& wish,
                               const Progress& progress = {});

/// What the book says was sent, oldest first. Error: its list is damaged.
Result<std::vector<spotting::Parcel>> parcelsSent (const OpenBook& open);
} // namespace shutterbeat::desk
