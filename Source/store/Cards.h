#pragma once

#include "spotting/Book.h"
#include "store/OrderedJson.h"

namespace shutterbeat::store
{
class Members;

/// Reads the book's member "cards", which may be absent.
void readCards (Members& book, spotting::Section<spotting::Card>& cards);

/// The member "cards" as it is written.
OrderedJson cardsJson (const spotting::Section<spotting::Card>& cards);
} // namespace shutterbeat::store
