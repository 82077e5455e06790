#pragma once

#include <malloc.h>

namespace shutterbeat::desk
{
/// What becomes of large blocks that are freed before the job ends.
enum class LargeBlocks
{
    kept,    ///< they may serve again, which is quickest where there are many of a size
    returned ///< to the system at once
};

/// To stand first in a long job that works in several threads: when it ends, what they freed goes back to the system. glibc keeps
/// a heap for each thread there ever was, up to eight a processor core, so that a program which exports again and again would
/// seem to grow. It also learns to keep large blocks there, whose places then lie empty while a list of all frames has grown and
/// moved on; a job that makes such lists has them returned (mallopt(3), M_MMAP_THRESHOLD).
class MemoryGivenBack
{
public:
    explicit MemoryGivenBack (LargeBlocks large = LargeBlocks::kept)
        : apart (large == LargeBlocks::returned)
    {
        if (apart)
            ::mallopt (M_MMAP_THRESHOLD, 256 * 1024);
    }
    MemoryGivenBack (const MemoryGivenBack&) = delete;
    MemoryGivenBack& operator= (const MemoryGivenBack&) = delete;
    ~MemoryGivenBack()
    {
        if (apart)
        {
            // The most that glibc would have learnt, and what it would keep free with that.
            ::mallopt (M_MMAP_THRESHOLD, 32 * 1024 * 1024);
            ::mallopt (M_TRIM_THRESHOLD, 64 * 1024 * 1024);
        }
        ::malloc_trim (0);
    }

private:
    bool apart;
};
} // namespace shutterbeat::desk
