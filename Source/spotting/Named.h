#pragma once

#include "time/Result.h"

#include <array>
#include <string>
#include <string_view>

namespace shutterbeat::spotting
{
/// The enumerator whose fixed English word `text` is, by its place in `names`. Error: none; the message lists them.
template <class Enum, std::size_t n>
Result<Enum> named (const std::array<std::string_view, n>& names, const char* what, std::string_view text)
{
    std::string all;
    for (std::size_t i = 0; i < n; ++i)
    {
        if (names[i] == text)
            return static_cast<Enum> (i);
        all += (i > 0 ? ", " : "") + std::string (names[i]);
    }
    return usageError (std::string (what) + " \"" + std::string (text) + "\"", "is not known; use one of: " + all);
}
} // namespace shutterbeat::spotting
