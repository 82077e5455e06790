#pragma once

#include <string>
#include <vector>

namespace shutterbeat::exchange
{
/// What stands over every list besides what the times themselves say.
struct ListHead
{
    std::string title;         ///< of the book
    std::string stamped;       ///< date (2026-05-01); empty: none is written
    std::string revision = {}; ///< of the book: "after the session", "after the session, changed since"; empty: none was named

    /// ", revision after the session, 2026-05-01": what there is of them, to go behind how the times were computed.
    [[nodiscard]] std::string stampText() const
    {
        return (revision.empty() ? "" : ", revision " + revision) + (stamped.empty() ? "" : ", " + stamped);
    }
};

/// One file of a list: most lists are one, some are one a reel or are split where the format ends.
struct WrittenPart
{
    std::string suffix; ///< goes before the ending of the file's name: "", "-reel2", "-part2"
    std::string bytes;
};

/// A list as bytes, and what the user should know about it.
struct Written
{
    std::vector<WrittenPart> parts; ///< at least one
    std::vector<std::string> notes;
};
} // namespace shutterbeat::exchange
