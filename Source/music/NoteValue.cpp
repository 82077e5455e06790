#include "music/NoteValue.h"

#include "time/Text.h"

#include <array>

namespace shutterbeat::music
{
namespace
{
struct Named
{
    std::string_view name;
    int numerator, denominator;
};

constexpr std::array<Named, 11> named{ { { "whole", 1, 1 },
                                         { "dotted whole", 3, 2 },
                                         { "half", 1, 2 },
                                         { "dotted half", 3, 4 },
                                         { "quarter", 1, 4 },
                                         { "dotted quarter", 3, 8 },
                                         { "eighth", 1, 8 },
                                         { "dotted eighth", 3, 16 },
                                         { "sixteenth", 1, 16 },
                                         { "dotted sixteenth", 3, 32 },
                                         { "thirty-second", 1, 32 } } };
} // namespace

Result<time::Rational> parseNoteValue (std::string_view text)
{
    const auto trimmed = time::trimmed (text);
    for (const auto& value : named)
        if (value.name == trimmed)
            return time::Rational (value.numerator, value.denominator);
    const auto read = time::parseRational (trimmed);
    if (! read || ! read->valid() || *read < time::Rational (1, 64) || *read > time::Rational (4))
        return usageError ("note value \"" + std::string (text) + "\"",
                           "is not one; use quarter, dotted quarter, half, eighth, or a part of a whole note such as 3/8");
    return *read;
}

std::string noteValueName (const time::Rational& ofWhole)
{
    for (const auto& value : named)
        if (time::Rational (value.numerator, value.denominator) == ofWhole)
            return std::string (value.name);
    return time::fractionText (ofWhole);
}
} // namespace shutterbeat::music
