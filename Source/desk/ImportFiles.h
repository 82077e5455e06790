#pragma once

#include "desk/ImportHits.h"

#include <string_view>

namespace shutterbeat::desk
{
/// Hits of a file with their places found; what could not be read goes to the plan.
using HitFile = Result<std::vector<IncomingHit>> (*) (const OpenBook&, std::string_view bytes, const ImportWish&, ImportPlan&);

Result<std::vector<IncomingHit>> hitsOfCsv (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan);
Result<std::vector<IncomingHit>> hitsOfCmx (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan);
Result<std::vector<IncomingHit>> hitsOfOtio (const OpenBook& open, std::string_view bytes, const ImportWish& wish,
                                             ImportPlan& plan);
Result<std::vector<IncomingHit>> hitsOfChapters (const OpenBook& open, std::string_view bytes, const ImportWish& wish,
                                                 ImportPlan& plan);
Result<std::vector<IncomingHit>> hitsOfWav (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan);

/// Lays a cue list over the cues of the book.
Result<Done> importCues (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan);
/// Gives cards the wordings of timed texts: each text goes to the card it is over longest.
Result<Done> importWordings (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan);

/// Merges what the web page's reader said, as if it were another copy of the book.
Result<Done> importReply (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan);

/// Rate, fill and edition that a list says it was made at, laid over what was asked. Error: words that can't be read.
Result<spotting::Asked> basisOf (spotting::Asked asked, const std::string& edition, const std::string& finalRate,
                                 const std::string& fill);

/// Where one of its places lies, whichever the list gives: place, film frame, file frame, delivered frame, timecode, feet, in that
/// order; `made` has the times the list was made at. Error: none given, or not in the film.
struct ListedPlace
{
    std::string place, timecode, feet;
    std::optional<std::int64_t> reel, filmFrame, fileFrame, delivered;
};
Result<film::Place> placeOf (const film::Timings& made, const ListedPlace& listed);
} // namespace shutterbeat::desk
