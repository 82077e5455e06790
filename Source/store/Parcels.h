#pragma once

#include "spotting/Book.h"
#include "spotting/Revision.h"

#include <vector>

namespace shutterbeat::store
{
/// The parcels a book says were sent, oldest first. They are a member of its file ("parcels") that nothing below the desk needs, so
/// the book passes it on word for word. Error (unreadable): the member is damaged; its path is named.
Result<std::vector<spotting::Parcel>> parcelsOf (const spotting::Book& book);

/// The book with these parcels in place of its own; none: without the member.
spotting::Book withParcels (spotting::Book book, const std::vector<spotting::Parcel>& parcels);

/// Its named revisions, oldest first, kept as the parcels are ("revisions").
Result<std::vector<spotting::Revision>> revisionsOf (const spotting::Book& book);
spotting::Book withRevisions (spotting::Book book, const std::vector<spotting::Revision>& revisions);
} // namespace shutterbeat::store
