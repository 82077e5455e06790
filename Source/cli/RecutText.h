#pragma once

#include "spotting/Carry.h"
#include "spotting/RecutRows.h"
#include "spotting/Remedies.h"

#include <nlohmann/json.hpp>

#include <ostream>
#include <string>
#include <vector>

namespace shutterbeat::cli
{
/// What a recut did, in words and columns: shots, hits, cues and what to do about them, conflicts, what waits for a decision.
void printRecut (const spotting::Carried& carried, const std::vector<spotting::RecutRow>& rows,
                 const std::vector<spotting::InsideRemedies>& remedies, const std::vector<spotting::PendingMatch>& pending,
                 std::ostream& out);

/// The same as one document.
nlohmann::ordered_json recutJson (const spotting::Carried& carried, const std::vector<spotting::RecutRow>& rows,
                                  const std::vector<spotting::InsideRemedies>& remedies,
                                  const std::vector<spotting::PendingMatch>& pending);

/// What became of a hit: "moved +36, 3 more since the hit before", "kept on its cut, picture trimmed by 12".
std::string hitText (const spotting::CarriedHit& hit);
} // namespace shutterbeat::cli
