#include "media/GreyPass.h"
#include "media/GreyShrink.h"

#include "Catch.h"
#include "media/NumberedFilm.h"

#include <numeric>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
media::FrameHandle plane (AVPixelFormat format, int width, int height)
{
    media::FrameHandle frame (av_frame_alloc());
    frame->format = format;
    frame->width = width;
    frame->height = height;
    REQUIRE (av_frame_get_buffer (frame.get(), 0) >= 0);
    return frame;
}
} // namespace

TEST_CASE ("every small pixel is the mean of the area it covers")
{
    // Full-range grey, so that levels pass through unchanged.
    const auto frame = plane (AV_PIX_FMT_GRAY8, 7, 5);
    std::vector<int> levels;
    for (int y = 0; y < 5; ++y)
        for (int x = 0; x < 7; ++x)
        {
            levels.push_back ((x * 41 + y * 67) % 256);
            frame->data[0][y * frame->linesize[0] + x] = static_cast<std::uint8_t> (levels.back());
        }
    REQUIRE (media::GreyShrink::canRead (*frame));
    media::GreyShrink shrink;
    film::GreyPicture small;
    for (const auto& [width, height] :
         { std::pair (7, 5), std::pair (1, 1), std::pair (3, 2), std::pair (5, 3), std::pair (14, 10) })
    {
        shrink.shrink (*frame, width, height, small);
        REQUIRE (small.pixels.size() == static_cast<std::size_t> (width * height));
        for (int ty = 0; ty < height; ++ty)
            for (int tx = 0; tx < width; ++tx)
            {
                double sum = 0;
                for (int y = 0; y < 5; ++y)
                    for (int x = 0; x < 7; ++x)
                    {
                        const double w = std::min ((x + 1.0) * width, 7.0 * (tx + 1)) - std::max (x * 1.0 * width, 7.0 * tx);
                        const double h = std::min ((y + 1.0) * height, 5.0 * (ty + 1)) - std::max (y * 1.0 * height, 5.0 * ty);
                        if (w > 0 && h > 0)
                            sum += w * h * levels[static_cast<std::size_t> (y * 7 + x)];
                    }
                CHECK (small.at (tx, ty) == Approx (sum / 35).margin (0.6));
            }
    }
}

TEST_CASE ("black is 0 and white 255 at any depth and range")
{
    struct Range
    {
        AVPixelFormat format;
        AVColorRange range;
        int black, white;
    };
    media::GreyShrink shrink;
    film::GreyPicture small;
    for (const auto& [format, range, black, white] :
         { Range{ AV_PIX_FMT_YUV420P, AVCOL_RANGE_MPEG, 16, 235 }, Range{ AV_PIX_FMT_YUV420P, AVCOL_RANGE_UNSPECIFIED, 16, 235 },
           Range{ AV_PIX_FMT_YUVJ420P, AVCOL_RANGE_UNSPECIFIED, 0, 255 }, Range{ AV_PIX_FMT_YUV422P, AVCOL_RANGE_JPEG, 0, 255 },
           Range{ AV_PIX_FMT_YUV422P10, AVCOL_RANGE_MPEG, 64, 940 }, Range{ AV_PIX_FMT_GRAY16, AVCOL_RANGE_UNSPECIFIED, 0, 65535 },
           Range{ AV_PIX_FMT_YUV444P16, AVCOL_RANGE_MPEG, 4096, 60160 } })
    {
        const auto frame = plane (format, 64, 48);
        frame->color_range = range;
        REQUIRE (media::GreyShrink::canRead (*frame));
        const bool wide = white > 255;
        for (const auto& [level, grey] : { std::pair (black, 0), std::pair (white, 255), std::pair ((black + white) / 2, 127) })
        {
            for (int y = 0; y < 48; ++y)
                for (int x = 0; x < 64; ++x)
                {
                    auto* row = frame->data[0] + y * frame->linesize[0];
                    if (wide)
                        reinterpret_cast<std::uint16_t*> (row)[x] = static_cast<std::uint16_t> (level);
                    else
                        row[x] = static_cast<std::uint8_t> (level);
                }
            shrink.shrink (*frame, 5, 5, small);
            CHECK (small.at (2, 2) >= grey);
            CHECK (small.at (2, 2) <= grey + 1);
        }
    }
    for (const auto format : { AV_PIX_FMT_RGB24, AV_PIX_FMT_PAL8, AV_PIX_FMT_YUYV422, AV_PIX_FMT_MONOWHITE, AV_PIX_FMT_GBRP })
        CHECK_FALSE (media::GreyShrink::canRead (*plane (format, 16, 16)));
}

TEST_CASE ("the pass gives every frame once, in order, and can be stopped")
{
    TestFolder folder;
    const auto film = encode (folder, "a.mp4", "-c:v libx264 -g 250 -bf 2");
    std::vector<std::int64_t> seen;
    REQUIRE (media::forEachGrey (film, filmWidth, filmHeight,
                                 [&] (std::int64_t k, const film::GreyPicture& picture)
                                 {
                                     CHECK (numberIn (picture) == k);
                                     seen.push_back (k);
                                     return true;
                                 }));
    std::vector<std::int64_t> all (100);
    std::iota (all.begin(), all.end(), 0);
    CHECK (seen == all);

    int count = 0;
    const auto stopped = media::forEachGrey (film, 16, 12, [&] (std::int64_t, const film::GreyPicture&) { return ++count < 5; });
    REQUIRE_FALSE (stopped);
    CHECK (stopped.error().code == ErrorCode::cancelled);
    CHECK (count == 5);
    const auto wrong = media::forEachGrey (film, 0, 12, [&] (std::int64_t, const film::GreyPicture&) { return true; });
    REQUIRE_FALSE (wrong);
    CHECK (wrong.error().code == ErrorCode::usage);
}

TEST_CASE ("the pass keeps a slot for a frame that is lost")
{
    TestFolder folder;
    const auto film = encode (folder, "a.mov", "-c:v mjpeg -q:v 3", "25", 30);
    const auto index = media::readFrameIndex (film);
    REQUIRE (index);
    auto bytes = bytesOf (film);
    for (const std::size_t lost : { 0U, 12U, 13U })
        for (auto at = index->packets[lost].pos; at < index->packets[lost + 1].pos; ++at)
            bytes[static_cast<std::size_t> (at)] = '\0';
    writeBytes (film, bytes);
    std::int64_t next = 0;
    REQUIRE (media::forEachGrey (film, filmWidth, filmHeight,
                                 [&] (std::int64_t k, const film::GreyPicture& picture)
                                 {
                                     CHECK (k == next++);
                                     CHECK (picture.damaged == (k == 0 || k == 12 || k == 13));
                                     CHECK (numberIn (picture) == (k == 0 ? 0 : k == 12 || k == 13 ? 11 : k));
                                     return true;
                                 }));
    CHECK (next == 30);
}
