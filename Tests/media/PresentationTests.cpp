#include "media/DisplayShape.h"
#include "media/FrameCache.h"
#include "media/FrameIndex.h"
#include "media/Presentation.h"

#include "Catch.h"

using namespace shutterbeat;
using media::FrameIndex;
using media::PictureType;
using Order = std::vector<std::int64_t>;

namespace
{
FrameIndex withStamps (const std::vector<std::int64_t>& stamps)
{
    FrameIndex index;
    std::int64_t dts = -2;
    for (const auto pts : stamps)
    {
        media::IndexedPacket packet;
        packet.pts = pts;
        packet.dts = dts++;
        index.packets.push_back (packet);
    }
    return index;
}

FrameIndex withTypes (const std::string& types)
{
    FrameIndex index;
    for (const char type : types)
    {
        media::IndexedPacket packet;
        packet.type = type == 'B' ? PictureType::between : PictureType::reference;
        packet.key = type == 'I';
        index.packets.push_back (packet);
    }
    return index;
}
} // namespace

TEST_CASE ("pictures are presented by timestamp")
{
    auto index = withStamps ({ 0, 3, 1, 2, 6, 4, 5 });
    CHECK (media::hasAllTimestamps (index));
    const auto order = media::orderByTimestamp (index);
    CHECK (order == Order{ 0, 2, 3, 1, 5, 6, 4 });
    media::present (index, order);
    CHECK (index.packets[1].frame == 3);
    CHECK (index.frames[3].packet == 1);
    CHECK (index.reorder == 1);
}

TEST_CASE ("hidden pictures and second fields are not presented, and need no timestamp")
{
    auto index = withStamps ({ 0, 1, 2, 3, 4 });
    index.packets[1].hidden = true;
    index.packets[1].pts = media::noTimestamp;
    index.packets[3].secondField = true;
    CHECK (media::hasAllTimestamps (index));
    media::present (index, media::orderByTimestamp (index));
    CHECK (index.size() == 3);
    CHECK (index.packets[1].frame == -1);
    CHECK (index.packets[3].frame == index.packets[2].frame);
    index.packets[0].pts = media::noTimestamp;
    CHECK_FALSE (media::hasAllTimestamps (index));
}

TEST_CASE ("where the clock runs back a new stretch begins")
{
    auto index = withStamps ({ 10, 12, 11, 0, 2, 1 });
    for (std::size_t i = 3; i < 6; ++i)
        index.packets[i].dts = static_cast<std::int64_t> (i) - 20;
    CHECK (media::orderByTimestamp (index) == Order{ 0, 2, 1, 3, 5, 4 });
}

TEST_CASE ("without timestamps picture types give the order")
{
    CHECK (media::orderByType (withTypes ("IPBBPBB")) == Order{ 0, 2, 3, 1, 5, 6, 4 });
    CHECK (media::orderByType (withTypes ("IPPI")) == Order{ 0, 1, 2, 3 });
    CHECK (media::orderByType (withTypes ("")) == Order{});
}

TEST_CASE ("decoding starts at a key that is shown no later than the frame")
{
    // Open groups: I0 P3 B1 B2, I6 with B4 B5 that hang on both sides.
    auto index = withStamps ({ 0, 3, 1, 2, 6, 4, 5, 9, 7, 8 });
    index.packets[0].key = index.packets[4].key = true;
    media::present (index, media::orderByTimestamp (index));
    for (const std::int64_t k : { 0, 1, 2, 3, 4, 5 })
        CHECK (index.decodeStart (k) == 0);
    for (const std::int64_t k : { 6, 7, 8, 9 })
        CHECK (index.decodeStart (k) == 4);
    CHECK (index.keyBefore (4) == 0);
    CHECK (index.decodeStart (-1) == 0);
    CHECK (index.decodeStart (99) == 0);
}

TEST_CASE ("only pictures round the first key are in doubt")
{
    auto index = withStamps ({ 2, 0, 1, 5, 3, 4 });
    index.packets[0].key = true;
    media::present (index, media::orderByTimestamp (index));
    CHECK (media::doubtfulHead (index) == Order{ 0, 1 });
    index = withStamps ({ 0, 1, 2, 3 });
    index.packets[2].key = true;
    media::present (index, media::orderByTimestamp (index));
    CHECK (media::doubtfulHead (index) == Order{ 0, 1 });
    index.packets[2].key = false;
    CHECK (media::doubtfulHead (index).empty());
}

TEST_CASE ("the order is complete and sorted whatever the timestamps")
{
    CHECK_PROPERTY ("every shown packet exactly once, rising",
                    [] (const std::vector<std::int16_t>& stamps)
                    {
                        auto index = withStamps ({ stamps.begin(), stamps.end() });
                        media::present (index, media::orderByTimestamp (index));
                        RC_ASSERT (index.size() == static_cast<std::int64_t> (stamps.size()));
                        for (std::size_t k = 0; k < index.frames.size(); ++k)
                        {
                            RC_ASSERT (index.packets[static_cast<std::size_t> (index.frames[k].packet)].frame
                                       == static_cast<std::int64_t> (k));
                            if (k > 0)
                                RC_ASSERT (index.frames[k - 1].pts <= index.frames[k].pts);
                        }
                    });
}

TEST_CASE ("pixel shape and rotation give the display size (B19)")
{
    const auto shape = [] (int width, int height, int n, int d, int rotation)
    {
        const auto result = media::displayShape (width, height, { time::Int128 (n), time::Int128 (d) }, rotation);
        return std::pair (result.width, result.height);
    };
    CHECK (shape (720, 576, 64, 45, 0) == std::pair (1024, 576));
    CHECK (shape (720, 480, 8, 9, 0) == std::pair (640, 480));
    CHECK (shape (720, 576, 0, 1, 0) == std::pair (720, 576));
    CHECK (shape (720, 576, 0, 0, 0) == std::pair (720, 576));
    CHECK (shape (321, 241, 1, 1, 0) == std::pair (321, 241));
    CHECK (shape (720, 576, 64, 45, 90) == std::pair (576, 1024));
    CHECK (shape (640, 480, 1, 1, 270) == std::pair (480, 640));
    CHECK (shape (640, 480, 1, 1, 180) == std::pair (640, 480));
}

TEST_CASE ("the frame cache keeps what lies nearest, within its budget")
{
    const auto picture = []
    {
        media::FrameHandle frame (av_frame_alloc());
        frame->format = AV_PIX_FMT_GRAY8;
        frame->width = 64;
        frame->height = 64;
        REQUIRE (av_frame_get_buffer (frame.get(), 0) >= 0);
        return media::KeptFrame{ std::move (frame), false };
    };
    media::FrameCache one (1);
    one.keep (0, picture(), 0);
    const auto each = one.bytes();
    media::FrameCache cache (each * 10);
    for (std::int64_t k = 0; k < 30; ++k)
        cache.keep (k, picture(), 29);
    CHECK (cache.bytes() <= each * 10);
    for (std::int64_t k = 0; k < 30; ++k)
        CHECK ((cache.find (k) != nullptr) == (k >= 20));
    cache.keep (5, picture(), 5);
    CHECK (cache.find (5) != nullptr);
    CHECK (cache.find (29) == nullptr);
    cache.clear();
    CHECK (cache.bytes() == 0);
}
