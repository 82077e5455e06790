#pragma once

#include "desk/ListedFrames.h"
#include "desk/RecutEdition.h"
#include "exchange/ChangeTable.h"
#include "exchange/PictureList.h"

#include <optional>
#include <string>

namespace shutterbeat::desk
{
/// Makes the next edition of a book from a list of the old cut and one of the new: a picture is the same where source and source
/// frame are. `counts`: what their frames are; none: what the old list is exactly as long as. Error: an old list of another
/// length; lists of different rates; as editionFromListed.
Result<RecutMade> recutFromLists (const spotting::Book& book, const std::string& before, const exchange::PictureList& old,
                                  const exchange::PictureList& now, std::optional<ListCounts> counts = {});

/// The same from a change list. Error: bad lines; rows that leave a film frame of either edition out, or tell a new one twice;
/// as editionFromListed.
Result<RecutMade> recutFromChanges (const spotting::Book& book, const std::string& before, const exchange::ChangeTable& changes);
} // namespace shutterbeat::desk
