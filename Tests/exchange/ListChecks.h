#pragma once

#include "exchange/Written.h"

#include <algorithm>
#include <string>
#include <vector>

namespace shutterbeat::tests
{
/// What most lists of these tests say of themselves.
inline const exchange::ListHead head{ "The Runaway Ladder", "2026-05-01" };

/// Whether one of the notes has those words in it.
inline bool said (const std::vector<std::string>& notes, const std::string& part)
{
    return std::any_of (notes.begin(), notes.end(),
                        [&] (const std::string& note) { return note.find (part) != std::string::npos; });
}

inline std::string bytesOf (const std::vector<int>& values)
{
    std::string text;
    for (const int value : values)
        text += static_cast<char> (value);
    return text;
}
} // namespace shutterbeat::tests
