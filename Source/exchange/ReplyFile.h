#pragma once

#include "spotting/Hit.h"
#include "time/Result.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::exchange
{
/// What somebody said of a hit that was sent to them.
struct HitReply
{
    std::string id;
    spotting::HitPoint sent; ///< as it was sent, without its place
    std::string sentPlace;   ///< as places are written
    std::optional<spotting::Weight> weight;
    std::optional<bool> agreed; ///< false: they would rather not have it
    std::string words;
};

/// A hit they added.
struct AddedHit
{
    spotting::HitPoint hit;     ///< with their id, without its place
    std::size_t reel = 0;       ///< of the edition
    std::int64_t delivered = 0; ///< frame from picture start of the reel
};

struct CueReply
{
    std::string id, words;
};

/// The file that the web page saves.
struct Reply
{
    std::string title, edition, finalRate, fill, running; ///< what the frames were counted at
    int parcel = 0;
    std::string personId, personName;
    std::int64_t lastNumber = 0; ///< of the ids they gave
    std::vector<HitReply> hits;
    std::vector<AddedHit> added;
    std::vector<CueReply> cues;
    std::vector<std::string> bad; ///< entries that were left out, and why
};

/// Error (unreadable): not JSON, not such a file, a newer one.
Result<Reply> readReply (std::string_view bytes);
} // namespace shutterbeat::exchange
