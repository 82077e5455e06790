#include "media/FrameCache.h"

#include "Catch.h"

using namespace shutterbeat;

namespace
{
constexpr std::size_t pictureBytes = 1000;

media::KeptFrame picture()
{
    media::KeptFrame made{ media::FrameHandle (av_frame_alloc()) };
    made.frame->buf[0] = av_buffer_alloc (pictureBytes);
    return made;
}

/// A run through the frames from `first` to `last` because the user, going backward, wants `last`.
void runThrough (media::FrameCache& cache, std::int64_t first, std::int64_t last)
{
    for (auto k = first; k <= last; ++k)
        cache.keep (k, picture(), last, true);
}

void allThere (media::FrameCache& cache, std::int64_t first, std::int64_t end)
{
    for (auto k = first; k < end; ++k)
    {
        INFO (k);
        REQUIRE (cache.find (k) != nullptr);
    }
}
} // namespace

TEST_CASE ("going back into the group before keeps all of it where the memory holds it")
{
    // Room for a group of 250 and a few more: what lies behind must not push out the head of the group that comes next.
    media::FrameCache cache (270 * pictureBytes);
    runThrough (cache, 500, 749);
    runThrough (cache, 250, 499);
    allThere (cache, 250, 500);
    // A few steps forward again are at hand too.
    CHECK (cache.find (500) != nullptr);
    CHECK (cache.find (504) != nullptr);
    CHECK (cache.bytes() <= 270 * pictureBytes);
}

TEST_CASE ("a smaller memory keeps what stepping back asks for next")
{
    media::FrameCache cache (100 * pictureBytes);
    runThrough (cache, 500, 749);
    runThrough (cache, 250, 499);
    allThere (cache, 410, 500);
    CHECK (cache.bytes() <= 100 * pictureBytes);
}
