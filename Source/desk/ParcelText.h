#pragma once

#include "desk/Parcel.h"

namespace shutterbeat::desk
{
/// A file of a parcel and a line about it.
struct ParcelItem
{
    std::string name, what;
};

/// A person's name, or their id where none is known.
std::string personName (const spotting::Book& book, const std::string& id);

/// The read-me of a parcel: whose it is, what changed since the last one, what is in it, how to answer.
std::string parcelText (const MadeParcel& made, const spotting::BookTimes& times, const std::vector<ParcelItem>& items);
} // namespace shutterbeat::desk
