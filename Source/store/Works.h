#pragma once

#include "spotting/Book.h"
#include "store/OrderedJson.h"

namespace shutterbeat::store
{
class Members;

/// Reads "works", "work_uses", "usage_codes" and "production" of a book into it; faults go to `book`'s failure.
void readWorks (Members& book, spotting::Book& into);
/// Adds them to the JSON of a book; what is empty is left out.
void addWorks (OrderedJson& json, const spotting::Book& book);
} // namespace shutterbeat::store
