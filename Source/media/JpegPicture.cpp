#include "media/JpegPicture.h"

#include "media/StillCodec.h"

namespace shutterbeat::media
{
Result<std::string> jpegOf (const Picture& picture)
{
    // Full-range Y'CbCr of ITU-R BT.601, which is what JFIF holds; of 2 to 31 the finest step that libav's rate control gives.
    const StillCodec jpeg{ AV_CODEC_ID_MJPEG, "JPEG", AV_PIX_FMT_YUVJ444P, 2 };
    const std::string where = "picture";
    const auto frame = jpeg.frameFor (where, picture);
    if (! frame)
        return frame.error();
    const ScalerHandle scaler (sws_getContext (picture.width, picture.height, AV_PIX_FMT_RGB24, picture.width, picture.height,
                                               jpeg.format, SWS_POINT | SWS_ACCURATE_RND | SWS_BITEXACT, nullptr, nullptr,
                                               nullptr));
    const std::uint8_t* from[] = { picture.rgb.data() };
    const int stride[] = { picture.width * 3 };
    if (scaler == nullptr
        || sws_scale (scaler.get(), from, stride, 0, picture.height, (*frame)->data, (*frame)->linesize) != picture.height)
        return jpeg.failed (where, "its colours can't be converted");
    const auto packet = jpeg.encode (where, **frame);
    if (! packet)
        return packet.error();
    return std::string (reinterpret_cast<const char*> ((*packet)->data), static_cast<std::size_t> ((*packet)->size));
}
} // namespace shutterbeat::media
