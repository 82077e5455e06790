#pragma once

#include "desk/OpenBook.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// How working copies are made.
struct WorkingCopyWish
{
    std::string folder; ///< made when missing; empty: "NAME-working" beside the book
    int width = 640;    ///< at most; the height follows the film's display shape. 64 to 4096
    bool again = false; ///< also where there is one already
};

/// A working copy that was made.
struct WorkingCopy
{
    std::string print; ///< id
    std::size_t reel = 0;
    std::string path;
    std::int64_t frames = 0;
    int width = 0, height = 0;
};

struct MadeWorkingCopies
{
    std::vector<WorkingCopy> made;
    std::vector<std::string> notes;
};

/// Makes a small H.264 file for every reel of every print, picture by picture with the same numbers, easy to decode and to
/// jump in, and names it in the book. The book is saved after each, so that what is done stays done when it is stopped.
/// Error: a film that can't be read, a width that can't be, a name that would write over a film, cannotWrite, conflict,
/// cancelled.
Result<MadeWorkingCopies> makeWorkingCopies (OpenBook& open, const WorkingCopyWish& wish, const Progress& progress = {});
} // namespace shutterbeat::desk
