#pragma once

#include <malloc.h>

namespace shutterbeat::desk
{
/// To stand first in a long job that works in several threads: when it ends, what they freed goes back to the system. glibc keeps
/// a heap for each thread there ever was, up to eight a processor core, so that a program which exports again and again would
/// seem to grow.
struct MemoryGivenBack
{
    MemoryGivenBack() = default;
    MemoryGivenBack (const MemoryGivenBack&) = delete;
    MemoryGivenBack& operator= (const MemoryGivenBack&) = delete;
    ~MemoryGivenBack() { ::malloc_trim (0); }
};
} // namespace shutterbeat::desk
