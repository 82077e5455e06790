#pragma once

#include "spotting/Times.h"

namespace shutterbeat::window
{
/// True when two books have the same film times: prints, editions and delivery are the very same.
bool sameTimings (const spotting::Book& a, const spotting::Book& b);

/// The times of a book after an edit. Where `before` holds the times of `was` and the film is the same, what did not move is
/// taken over, so that an edit among thousands costs little. Else as spotting::timesOf.
Result<spotting::BookTimes> timesAfter (const spotting::Book& book, const spotting::Book& was, spotting::BookTimes* before);
} // namespace shutterbeat::window
