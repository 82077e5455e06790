#pragma once

#include "exchange/Written.h"
#include "spotting/Times.h"

#include <cstdint>
#include <string>
#include <vector>

namespace shutterbeat::exchange
{
/// The movie of a reel, as the page finds it.
struct PageMovie
{
    std::string file;        ///< beside the page
    std::int64_t leader = 0; ///< frames before picture start
};

/// Whom a page is for, and what it plays.
struct PageWish
{
    std::vector<PageMovie> movies; ///< one a reel of the edition
    std::string personId;          ///< gives ids to what they add; empty: from the name they type
    std::string personName;
    int parcel = 0;            ///< number of the parcel it goes with; 0: none
    std::string running;       ///< the one running speed that was asked for, as parseSpeed reads it; empty: the book's
    std::int64_t lastNumber{}; ///< of the person's ids in the book
};

/// The page itself: one HTML file with everything in it but the movies. It plays them frame by frame (a seek goes to
/// (j + 1/2) / R), shows cues and hits with the marks of sheets and window, and saves what the reader says as a file that
/// readReply reads. It asks no network for anything. Error: not one movie a reel.
Result<Written> writeWebPage (const spotting::BookTimes& times, const ListHead& head, const PageWish& wish);
} // namespace shutterbeat::exchange
