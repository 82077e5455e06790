#pragma once

#include "spotting/Book.h"
#include "store/OrderedJson.h"

namespace shutterbeat::store
{
class Members;

/// Reads the book's members "same_pictures" and "recuts", which may be absent.
void readRecuts (Members& book, spotting::Book& into);

/// Adds both where there is something to keep.
void addRecuts (OrderedJson& json, const spotting::Book& book);
} // namespace shutterbeat::store
