#include "media/JpegPicture.h"

#include "media/Libav.h"

namespace shutterbeat::media
{
namespace
{
constexpr int quantiser = 2; // of 2 to 31: the finest that libav's rate control gives by itself

Error failed (const std::string& why)
{
    return cannotWrite ("picture", "can't be made into a JPEG: " + why);
}

/// The picture as full-range Y'CbCr of ITU-R BT.601, which is what JFIF holds.
Result<FrameHandle> convert (const Picture& picture)
{
    FrameHandle frame (av_frame_alloc());
    frame->format = AV_PIX_FMT_YUVJ444P;
    frame->width = picture.width;
    frame->height = picture.height;
    frame->pts = 0;
    frame->quality = quantiser * FF_QP2LAMBDA;
    if (const int code = av_frame_get_buffer (frame.get(), 0); code < 0)
        return failed (libavText (code));
    const ScalerHandle scaler (sws_getContext (picture.width, picture.height, AV_PIX_FMT_RGB24, picture.width, picture.height,
                                               AV_PIX_FMT_YUVJ444P, SWS_POINT | SWS_ACCURATE_RND | SWS_BITEXACT, nullptr, nullptr,
                                               nullptr));
    const std::uint8_t* from[] = { picture.rgb.data() };
    const int stride[] = { picture.width * 3 };
    if (scaler == nullptr
        || sws_scale (scaler.get(), from, stride, 0, picture.height, frame->data, frame->linesize) != picture.height)
        return failed ("its colours can't be converted");
    return frame;
}
} // namespace

Result<std::string> jpegOf (const Picture& picture)
{
    silenceLibav();
    if (picture.width < 1 || picture.height < 1
        || picture.rgb.size()
               != std::size_t (3) * static_cast<std::size_t> (picture.width) * static_cast<std::size_t> (picture.height))
        return usageError ("picture", "its bytes don't fit its size of " + std::to_string (picture.width) + " x "
                                          + std::to_string (picture.height));
    const AVCodec* jpeg = avcodec_find_encoder (AV_CODEC_ID_MJPEG);
    if (jpeg == nullptr)
        return failed ("this libav has no JPEG encoder; install the full FFmpeg libraries");
    const CodecHandle codec (avcodec_alloc_context3 (jpeg));
    codec->width = picture.width;
    codec->height = picture.height;
    codec->pix_fmt = AV_PIX_FMT_YUVJ444P;
    codec->color_range = AVCOL_RANGE_JPEG;
    codec->time_base = { 1, 1 };
    codec->thread_count = 1;
    codec->flags |= AV_CODEC_FLAG_QSCALE | AV_CODEC_FLAG_BITEXACT;
    codec->global_quality = quantiser * FF_QP2LAMBDA;
    if (const int code = avcodec_open2 (codec.get(), jpeg, nullptr); code < 0)
        return failed (libavText (code));
    const auto frame = convert (picture);
    if (! frame)
        return frame.error();
    const PacketHandle packet (av_packet_alloc());
    int code = avcodec_send_frame (codec.get(), frame->get());
    if (code >= 0)
        code = avcodec_send_frame (codec.get(), nullptr);
    if (code >= 0)
        code = avcodec_receive_packet (codec.get(), packet.get());
    if (code < 0)
        return failed (libavText (code));
    return std::string (reinterpret_cast<const char*> (packet->data), static_cast<std::size_t> (packet->size));
}
} // namespace shutterbeat::media
