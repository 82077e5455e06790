#pragma once

#include "desk/OpenBook.h"
#include "spotting/Times.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// How the web page is made.
struct WebPageWish
{
    spotting::Asked asked;
    std::vector<std::string> movies;  ///< as delivered, one a reel of the edition
    std::optional<int> leaderSeconds; ///< of each movie; none: by their start timecodes
    std::string person;               ///< id of who is to read it; empty: anybody
    int parcel = 0;
    std::string stamped; ///< date
};

/// The page as bytes, for a file at `path`: movies are named as seen from there. Error: a movie that can't be read or is not of
/// its reel; as exchange::writeWebPage.
Result<std::string> webPageText (const OpenBook& open, const std::string& path, const WebPageWish& wish);
/// The same, written whole or not at all.
Result<Done> writeWebPage (const OpenBook& open, const std::string& path, const WebPageWish& wish);
} // namespace shutterbeat::desk
