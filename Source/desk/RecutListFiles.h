#pragma once

#include "desk/RecutFromLists.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// The next edition from two files, each a CMX3600 list (at `rate`) or an OTIO timeline. Error: as readPictureList and
/// recutFromLists, with the file.
Result<RecutMade> recutFromListFiles (const spotting::Book& book, const std::string& before, const std::string& oldPath,
                                      const std::string& newPath, const time::Rate& rate, std::optional<ListCounts> counts);

/// The next edition from a change list. Error: as readChangeTable and recutFromChanges, with the file.
Result<RecutMade> recutFromChangeFile (const spotting::Book& book, const std::string& before, const std::string& path);

/// Writes a change list, whole or not at all, as recutFromChangeFile reads it. Error: cannotWrite.
Result<Done> writeChangeList (const std::string& path, const std::vector<spotting::RecutRow>& rows);
} // namespace shutterbeat::desk
