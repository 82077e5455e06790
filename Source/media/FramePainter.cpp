#include "media/FramePainter.h"

#include <cstring>
#include <utility>

namespace shutterbeat::media
{
namespace
{
/// Clockwise by 90, 180 or 270 degrees; width and height are those before the turn.
std::vector<std::uint8_t> turned (const std::vector<std::uint8_t>& from, int width, int height, int channels, int degrees)
{
    std::vector<std::uint8_t> into (from.size());
    const bool upended = degrees != 180;
    const int newWidth = upended ? height : width;
    const int newHeight = upended ? width : height;
    for (int y = 0; y < newHeight; ++y)
        for (int x = 0; x < newWidth; ++x)
        {
            const int fromX = degrees == 90 ? y : degrees == 180 ? width - 1 - x : width - 1 - y;
            const int fromY = degrees == 90 ? height - 1 - x : degrees == 180 ? height - 1 - y : x;
            std::memcpy (
                &into[(static_cast<std::size_t> (y) * static_cast<std::size_t> (newWidth) + static_cast<std::size_t> (x))
                      * static_cast<std::size_t> (channels)],
                &from[(static_cast<std::size_t> (fromY) * static_cast<std::size_t> (width) + static_cast<std::size_t> (fromX))
                      * static_cast<std::size_t> (channels)],
                static_cast<std::size_t> (channels));
        }
    return into;
}

/// What a file that does not say is taken to mean: high definition ITU-R BT.709, else BT.601.
int coefficientsOf (const AVFrame& frame)
{
    if (frame.colorspace != AVCOL_SPC_UNSPECIFIED && frame.colorspace != AVCOL_SPC_RGB)
        return frame.colorspace;
    return frame.height > 576 || frame.width > 1024 ? SWS_CS_ITU709 : SWS_CS_ITU601;
}
} // namespace

Result<Done> FramePainter::convert (const AVFrame& frame, int width, int height, AVPixelFormat format, ScalerHandle& scaler,
                                    std::vector<std::uint8_t>& into)
{
    const auto source = static_cast<AVPixelFormat> (frame.format);
    const bool smaller = width < frame.width || height < frame.height;
    const int flags =
        (smaller ? SWS_AREA : SWS_BICUBIC) | SWS_ACCURATE_RND | SWS_BITEXACT | SWS_FULL_CHR_H_INT | SWS_FULL_CHR_H_INP;
    scaler.reset (sws_getCachedContext (scaler.release(), frame.width, frame.height, source, width, height, format, flags, nullptr,
                                        nullptr, nullptr));
    if (scaler == nullptr)
        return unreadable (name, "its pictures have a format that can't be shown; convert it to another file first");
    int* unused = nullptr;
    int* unusedToo = nullptr;
    int sourceFull = 0, targetFull = 0, brightness = 0, contrast = 0, saturation = 0;
    if (sws_getColorspaceDetails (scaler.get(), &unused, &sourceFull, &unusedToo, &targetFull, &brightness, &contrast, &saturation)
        >= 0)
    {
        const auto* coefficients = sws_getCoefficients (coefficientsOf (frame));
        const int full = frame.color_range == AVCOL_RANGE_UNSPECIFIED ? sourceFull : frame.color_range == AVCOL_RANGE_JPEG ? 1 : 0;
        sws_setColorspaceDetails (scaler.get(), coefficients, full, coefficients, 1, brightness, contrast, saturation);
    }

    // libav may write past the end of a row that is not padded, so it gets a padded picture of its own.
    const FrameHandle target (av_frame_alloc());
    target->format = format;
    target->width = width;
    target->height = height;
    if (av_frame_get_buffer (target.get(), 0) < 0
        || sws_scale (scaler.get(), frame.data, frame.linesize, 0, frame.height, target->data, target->linesize) != height)
        return unreadable (name, "a picture of " + std::to_string (frame.width) + " x " + std::to_string (frame.height)
                                     + " can't be scaled; convert the file first");
    const std::size_t rowBytes = static_cast<std::size_t> (width) * (format == AV_PIX_FMT_RGB24 ? 3 : 1);
    into.resize (rowBytes * static_cast<std::size_t> (height));
    for (int y = 0; y < height; ++y)
        std::memcpy (into.data() + static_cast<std::size_t> (y) * rowBytes,
                     target->data[0] + std::ptrdiff_t (y) * target->linesize[0], rowBytes);
    return Done{};
}

Result<Picture> FramePainter::colour (const AVFrame& frame, int width, int height)
{
    Picture picture{ width, height, {}, false };
    const bool upended = turn == 90 || turn == 270;
    const int across = upended ? height : width;
    const int down = upended ? width : height;
    if (auto done = convert (frame, across, down, AV_PIX_FMT_RGB24, colourScaler, picture.rgb); ! done)
        return done.error();
    if (turn != 0)
        picture.rgb = turned (picture.rgb, across, down, 3, turn);
    return picture;
}

Result<film::GreyPicture> FramePainter::grey (const AVFrame& frame, int width, int height)
{
    film::GreyPicture picture;
    const bool upended = turn == 90 || turn == 270;
    const int across = upended ? height : width;
    const int down = upended ? width : height;
    if (GreyShrink::canRead (frame))
        shrink.shrink (frame, across, down, picture);
    else if (auto done = convert (frame, across, down, AV_PIX_FMT_GRAY8, greyScaler, picture.pixels); ! done)
        return done.error();
    if (turn != 0)
        picture.pixels = turned (picture.pixels, across, down, 1, turn);
    picture.width = width;
    picture.height = height;
    return picture;
}
} // namespace shutterbeat::media
