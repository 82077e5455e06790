#pragma once

#include "desk/OpenBook.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// Writes one frame as PNG at its display shape. `source` is a book (it begins as one) or a film file; a bare number in
/// `place` is a film frame of a book, a file frame of a film. For a film, file:N, seconds and timecode are known.
/// Gives notes for the user. Error: unreadable source, a place the film does not have, cannotWrite.
Result<std::vector<std::string>> writeStill (const std::string& source, const std::string& place, const std::string& output,
                                             const spotting::Asked& asked = {});
} // namespace shutterbeat::desk
