#pragma once

#include "time/Rational.h"

#include <string>
#include <string_view>

namespace shutterbeat::music
{
/// Reads a note value as a part of a whole note: "quarter", "dotted half", "eighth", or a fraction such as 3/8.
/// Error: not a note value, or outside 1/64 to 4.
Result<time::Rational> parseNoteValue (std::string_view text);

/// "quarter", "dotted quarter", or the fraction of a whole note where it has no usual name.
std::string noteValueName (const time::Rational& ofWhole);
} // namespace shutterbeat::music
