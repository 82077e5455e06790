#include "media/GreyShrink.h"

extern "C"
{
#include <libavutil/pixdesc.h>
}

#include <algorithm>
#include <bit>

namespace shutterbeat::media
{
namespace
{
constexpr std::int64_t wholeWeight = 4096;

bool isGrey (const AVPixFmtDescriptor& format)
{
    return format.nb_components <= 2;
}

bool usesFullRange (const AVFrame& frame, const AVPixFmtDescriptor& format)
{
    if (frame.color_range != AVCOL_RANGE_UNSPECIFIED)
        return frame.color_range == AVCOL_RANGE_JPEG;
    return isGrey (format) || std::string_view (format.name).starts_with ("yuvj");
}
} // namespace

bool GreyShrink::canRead (const AVFrame& frame)
{
    const AVPixFmtDescriptor* format = av_pix_fmt_desc_get (static_cast<AVPixelFormat> (frame.format));
    if (format == nullptr)
        return false;
    constexpr auto unfit = AV_PIX_FMT_FLAG_RGB | AV_PIX_FMT_FLAG_PAL | AV_PIX_FMT_FLAG_HWACCEL | AV_PIX_FMT_FLAG_BITSTREAM
                           | AV_PIX_FMT_FLAG_BAYER | AV_PIX_FMT_FLAG_FLOAT;
    const auto& luma = format->comp[0];
    const int bytes = luma.depth > 8 ? 2 : 1;
    const bool nativeOrder = bytes == 1 || ((format->flags & AV_PIX_FMT_FLAG_BE) != 0) == (std::endian::native == std::endian::big);
    return (format->flags & unfit) == 0 && luma.depth >= 8 && luma.depth <= 16 && luma.plane == 0 && luma.offset == 0
           && luma.shift == 0 && luma.step == bytes && nativeOrder && frame.width > 0 && frame.height > 0;
}

void GreyShrink::Axis::prepare (int sourceSize, int targetSize)
{
    if (source == sourceSize && target == targetSize)
        return;
    source = sourceSize;
    target = targetSize;
    covers.clear();
    weights.clear();
    for (std::int64_t t = 0; t < target; ++t)
    {
        // Target t covers the source from t*source/target to (t+1)*source/target; lengths counted in 1/target.
        const std::int64_t begin = t * source;
        const std::int64_t end = begin + source;
        Cover cover{ static_cast<int> (begin / target), 0, weights.size() };
        std::int64_t given = 0;
        for (std::int64_t s = begin / target; s * target < end; ++s)
        {
            // The running total is rounded, not each weight, so that they add up exactly.
            const std::int64_t reached = std::min (end, (s + 1) * target) - begin;
            const std::int64_t total = (reached * wholeWeight + source / 2) / source;
            weights.push_back (static_cast<std::uint32_t> (total - given));
            given = total;
            ++cover.count;
        }
        covers.push_back (cover);
    }
}

template <class Sample>
void GreyShrink::run (const AVFrame& frame, int depth, bool fullRange, film::GreyPicture& into)
{
    const auto width = static_cast<std::size_t> (frame.width);
    const std::int64_t black = fullRange ? 0 : std::int64_t (16) << (depth - 8);
    const std::int64_t range = fullRange ? (std::int64_t (1) << depth) - 1 : std::int64_t (219) << (depth - 8);
    constexpr std::int64_t unit = wholeWeight * wholeWeight;
    row.resize (width);
    auto* out = into.pixels.data();
    for (const auto& rows : down.covers)
    {
        std::fill (row.begin(), row.end(), 0U);
        for (int i = 0; i < rows.count; ++i)
        {
            const auto* line =
                reinterpret_cast<const Sample*> (frame.data[0] + std::ptrdiff_t (rows.first + i) * frame.linesize[0]);
            // No more than 4096: in 16 bits processors multiply more of them at once.
            const auto weight = static_cast<std::int16_t> (down.weights[rows.weights + static_cast<std::size_t> (i)]);
            for (std::size_t x = 0; x < width; ++x)
                row[x] += static_cast<std::uint32_t> (line[x] * weight);
        }
        for (const auto& columns : across.covers)
        {
            std::uint64_t sum = 0;
            for (int i = 0; i < columns.count; ++i)
                sum += std::uint64_t (row[static_cast<std::size_t> (columns.first + i)])
                       * across.weights[columns.weights + static_cast<std::size_t> (i)];
            const auto level = (static_cast<std::int64_t> (sum) - black * unit) / 64 * 255;
            const auto most = range * (unit / 64);
            *out++ = static_cast<std::uint8_t> (std::clamp<std::int64_t> ((2 * level + most) / (2 * most), 0, 255));
        }
    }
}

void GreyShrink::shrink (const AVFrame& frame, int width, int height, film::GreyPicture& into)
{
    across.prepare (frame.width, width);
    down.prepare (frame.height, height);
    into.width = width;
    into.height = height;
    into.pixels.resize (static_cast<std::size_t> (width) * static_cast<std::size_t> (height));
    const AVPixFmtDescriptor* format = av_pix_fmt_desc_get (static_cast<AVPixelFormat> (frame.format));
    const int depth = format->comp[0].depth;
    const bool full = usesFullRange (frame, *format);
    if (depth > 8)
        run<std::uint16_t> (frame, depth, full, into);
    else
        run<std::uint8_t> (frame, depth, full, into);
}
} // namespace shutterbeat::media
