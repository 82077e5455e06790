#pragma once

#include "spotting/Parcel.h"

namespace shutterbeat::spotting
{
/// A state of the book that was given a name, such as "after the session", so that lists can say which they are of and the book
/// as it is now can be laid beside it.
struct Revision
{
    std::string name;
    std::string stamped; ///< date
    std::string state;   ///< tells whether the book is still as it was then
    SentState kept;      ///< its hits and cues
    Unknown unknown;

    friend bool operator== (const Revision&, const Revision&) = default;
};
} // namespace shutterbeat::spotting
