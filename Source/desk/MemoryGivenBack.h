#pragma once

#include <malloc.h>

namespace shutterbeat::desk
{
/// To stand first in a long job that works in several threads: what they free goes back to the system, large blocks at once, the
/// rest when it ends. glibc keeps a heap for each thread there ever was, up to eight a processor core, so that a program which
/// exports again and again would seem to grow; and it learns to keep large blocks there too, whose places then lie empty while a
/// list of all frames has grown and moved on (mallopt(3), M_MMAP_THRESHOLD).
struct MemoryGivenBack
{
    MemoryGivenBack() { ::mallopt (M_MMAP_THRESHOLD, largeBlock); }
    MemoryGivenBack (const MemoryGivenBack&) = delete;
    MemoryGivenBack& operator= (const MemoryGivenBack&) = delete;
    ~MemoryGivenBack()
    {
        ::mallopt (M_MMAP_THRESHOLD, asGlibcLearns);
        ::malloc_trim (0);
    }

private:
    static constexpr int largeBlock = 256 * 1024;
    static constexpr int asGlibcLearns = 32 * 1024 * 1024; // at most
};
} // namespace shutterbeat::desk
