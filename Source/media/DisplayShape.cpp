#include "media/DisplayShape.h"

extern "C"
{
#include <libavutil/display.h>
}

#include <cmath>
#include <utility>

namespace shutterbeat::media
{
namespace
{
/// The track's display matrix of nine numbers, or null.
const std::int32_t* displayMatrix (AVStream& stream)
{
#if LIBAVCODEC_VERSION_INT >= AV_VERSION_INT(60, 31, 102)
    const AVPacketSideData* found =
        av_packet_side_data_get (stream.codecpar->coded_side_data, stream.codecpar->nb_coded_side_data, AV_PKT_DATA_DISPLAYMATRIX);
    return found != nullptr && found->size >= 36 ? reinterpret_cast<const std::int32_t*> (found->data) : nullptr;
#else
    std::size_t size = 0;
    const auto* found = av_stream_get_side_data (&stream, AV_PKT_DATA_DISPLAYMATRIX, &size);
    return found != nullptr && size >= 36 ? reinterpret_cast<const std::int32_t*> (found) : nullptr;
#endif
}
} // namespace

DisplayShape displayShape (int storedWidth, int storedHeight, const time::Rational& pixelShape, int rotation)
{
    DisplayShape shape{ storedWidth, storedHeight, rotation, {} };
    if (pixelShape.valid() && pixelShape.sign() > 0 && pixelShape != time::Rational (1))
        shape.width = static_cast<int> (
            std::max<std::int64_t> (2, 2 * time::roundOf (time::Rational (storedWidth) * pixelShape / time::Rational (2))));
    if (rotation == 90 || rotation == 270)
        std::swap (shape.width, shape.height);
    return shape;
}

DisplayShape displayShapeOf (AVFormatContext& format, AVStream& stream)
{
    int rotation = 0;
    std::vector<std::string> warnings;
    if (const auto* matrix = displayMatrix (stream))
    {
        // libav counts anticlockwise.
        const double angle = -av_display_rotation_get (matrix);
        if (std::isfinite (angle))
            rotation = ((static_cast<int> (std::lround (angle / 90.0)) * 90) % 360 + 360) % 360;
        const auto determinant = std::int64_t (matrix[0]) * matrix[4] - std::int64_t (matrix[1]) * matrix[3];
        if (determinant < 0)
            warnings.emplace_back ("the file asks to be shown mirrored; it is shown as it was stored, turned by "
                                   + std::to_string (rotation) + " degrees");
    }
    const auto shape = rationalOf (av_guess_sample_aspect_ratio (&format, &stream, nullptr));
    auto result = displayShape (stream.codecpar->width, stream.codecpar->height, shape, rotation);
    result.warnings = std::move (warnings);
    return result;
}
} // namespace shutterbeat::media
