#pragma once

#include "spotting/Times.h"

namespace shutterbeat::window
{
/// True when two books have the same film times: prints, editions and delivery are the very same.
bool sameTimings (const spotting::Book& a, const spotting::Book& b);

/// The times of a book after an edit. Where `before` holds the times of `was` and the edit moved nothing (names, kinds,
/// weights, notes), its rows are used again, so that a name among thousands costs little. Else as spotting::timesOf.
Result<spotting::BookTimes> timesAfter (const spotting::Book& book, const spotting::Book& was, spotting::BookTimes* before);
} // namespace shutterbeat::window
