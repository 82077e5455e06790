#include "media/CanvasPainter.h"

#include <algorithm>
#include <cstring>

extern "C"
{
#include <libavutil/pixdesc.h>
}

namespace shutterbeat::media
{
namespace
{
FrameHandle frameOf (int width, int height, int format)
{
    FrameHandle frame (av_frame_alloc());
    frame->width = width;
    frame->height = height;
    frame->format = format;
    frame->colorspace = AVCOL_SPC_BT709;
    frame->color_range = AVCOL_RANGE_MPEG;
    if (av_frame_get_buffer (frame.get(), 0) < 0)
        frame.reset();
    return frame;
}

/// What a file that does not say is taken to mean: high definition ITU-R BT.709, else BT.601.
int coefficientsOf (const AVFrame& frame)
{
    if (frame.colorspace != AVCOL_SPC_UNSPECIFIED && frame.colorspace != AVCOL_SPC_RGB)
        return frame.colorspace;
    return frame.height > 576 || frame.width > 1024 ? SWS_CS_ITU709 : SWS_CS_ITU601;
}

/// No colour in it at all, as most silent film: then which matrix it was coded with makes no difference, and the long way
/// from one to another can be spared.
bool isGrey (const AVFrame& frame)
{
    const auto* format = av_pix_fmt_desc_get (static_cast<AVPixelFormat> (frame.format));
    if (format == nullptr || format->nb_components < 3 || (format->flags & AV_PIX_FMT_FLAG_PLANAR) == 0
        || (format->flags & (AV_PIX_FMT_FLAG_RGB | AV_PIX_FMT_FLAG_HWACCEL)) != 0 || format->comp[0].depth != 8
        || format->comp[1].plane != 1 || format->comp[2].plane != 2)
        return false;
    const int columns = AV_CEIL_RSHIFT (frame.width, format->log2_chroma_w);
    const int rows = AV_CEIL_RSHIFT (frame.height, format->log2_chroma_h);
    for (int plane = 1; plane <= 2; ++plane)
        for (int y = 0; y < rows; ++y)
        {
            const auto* row = frame.data[plane] + std::ptrdiff_t (y) * frame.linesize[plane];
            if (row[0] != 128 || std::memcmp (row, row + 1, static_cast<std::size_t> (columns - 1)) != 0)
                return false;
        }
    return true;
}

/// A plane turned clockwise. Sizes are those before the turn.
template <class Sample>
void turnPlane (const AVFrame& from, AVFrame& into, int plane, int width, int height, int degrees)
{
    for (int y = 0; y < height; ++y)
    {
        const auto* row = reinterpret_cast<const Sample*> (from.data[plane] + std::ptrdiff_t (y) * from.linesize[plane]);
        for (int x = 0; x < width; ++x)
        {
            const int toX = degrees == 90 ? height - 1 - y : degrees == 180 ? width - 1 - x : y;
            const int toY = degrees == 90 ? x : degrees == 180 ? height - 1 - y : width - 1 - x;
            reinterpret_cast<Sample*> (into.data[plane] + std::ptrdiff_t (toY) * into.linesize[plane])[toX] = row[x];
        }
    }
}
} // namespace

Result<Done> CanvasPainter::scale (const AVFrame& frame, ScalerHandle& tables, AVFrame& into)
{
    const bool smaller = into.width < frame.width || into.height < frame.height;
    const int flags = (smaller ? SWS_AREA : SWS_BICUBIC) | SWS_ACCURATE_RND | SWS_BITEXACT;
    const auto failed = [&]
    {
        return unreadable (name, "a picture of " + std::to_string (frame.width) + " x " + std::to_string (frame.height)
                                     + " has a format that can't be converted; convert the file to another first");
    };
    tables.reset (sws_getCachedContext (tables.release(), frame.width, frame.height, static_cast<AVPixelFormat> (frame.format),
                                        into.width, into.height, static_cast<AVPixelFormat> (into.format), flags, nullptr, nullptr,
                                        nullptr));
    if (tables == nullptr)
        return failed();
    int* unused = nullptr;
    int* unusedToo = nullptr;
    int sourceFull = 0, targetFull = 0, brightness = 0, contrast = 0, saturation = 0;
    if (sws_getColorspaceDetails (tables.get(), &unused, &sourceFull, &unusedToo, &targetFull, &brightness, &contrast, &saturation)
        >= 0)
    {
        const auto* to = sws_getCoefficients (SWS_CS_ITU709);
        const auto* from = isGrey (frame) ? to : sws_getCoefficients (coefficientsOf (frame));
        const int full = frame.color_range == AVCOL_RANGE_UNSPECIFIED ? sourceFull : frame.color_range == AVCOL_RANGE_JPEG ? 1 : 0;
        sws_setColorspaceDetails (tables.get(), from, full, to, 0, brightness, contrast, saturation);
    }
    if (sws_scale (tables.get(), frame.data, frame.linesize, 0, frame.height, into.data, into.linesize) != into.height)
        return failed();
    return Done{};
}

/// Upright by way of 4:4:4, whose planes can be turned alike.
Result<Done> CanvasPainter::turned (const AVFrame& frame, AVFrame& into)
{
    const bool ten = into.format == AV_PIX_FMT_YUV422P10;
    const int between = ten ? AV_PIX_FMT_YUV444P10 : AV_PIX_FMT_YUV444P;
    const bool upended = turn != 180;
    const auto lying = frameOf (upended ? into.height : into.width, upended ? into.width : into.height, between);
    const auto standing = frameOf (into.width, into.height, between);
    if (! lying || ! standing)
        return unreadable (name, "there is no memory for its pictures; ask for smaller ones");
    if (auto done = scale (frame, scaler, *lying); ! done)
        return done;
    for (int plane = 0; plane < 3; ++plane)
        if (ten)
            turnPlane<std::uint16_t> (*lying, *standing, plane, lying->width, lying->height, turn);
        else
            turnPlane<std::uint8_t> (*lying, *standing, plane, lying->width, lying->height, turn);
    return scale (*standing, afterTurn, into);
}

Result<Done> CanvasPainter::paint (const AVFrame& frame, Canvas& canvas, const Area& area)
{
    auto& whole = canvas.frame();
    const auto convert = [&] (AVFrame& into) { return turn == 0 ? scale (frame, scaler, into) : turned (frame, into); };
    if (area == Area{ 0, 0, canvas.width(), canvas.height() })
        return convert (whole);
    // libav may write past the end of a row, so a part of a canvas is made beside it.
    const auto part = frameOf (area.width, area.height, whole.format);
    if (! part)
        return unreadable (name, "there is no memory for its pictures; ask for smaller ones");
    if (auto done = convert (*part); ! done)
        return done;
    const auto* format = av_pix_fmt_desc_get (static_cast<AVPixelFormat> (whole.format));
    const int bytes = format->comp[0].depth > 8 ? 2 : 1;
    for (int plane = 0; plane < 3; ++plane)
    {
        const int across = plane == 0 ? 0 : format->log2_chroma_w;
        const int down = plane == 0 ? 0 : format->log2_chroma_h;
        for (int y = 0; y < area.height >> down; ++y)
            std::memcpy (whole.data[plane] + std::ptrdiff_t ((area.y >> down) + y) * whole.linesize[plane]
                             + (area.x >> across) * bytes,
                         part->data[plane] + std::ptrdiff_t (y) * part->linesize[plane],
                         static_cast<std::size_t> ((area.width >> across) * bytes));
    }
    return Done{};
}
} // namespace shutterbeat::media
