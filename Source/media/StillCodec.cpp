#include "media/StillCodec.h"

namespace shutterbeat::media
{
Error StillCodec::failed (const std::string& where, const std::string& why) const
{
    return cannotWrite (where, "the picture can't be made into a " + name + ": " + why);
}

Result<FrameHandle> StillCodec::frameFor (const std::string& where, const Picture& picture) const
{
    silenceLibav();
    if (picture.width < 1 || picture.height < 1
        || picture.rgb.size()
               != std::size_t (3) * static_cast<std::size_t> (picture.width) * static_cast<std::size_t> (picture.height))
        return usageError (where, "the picture's bytes don't fit its size of " + std::to_string (picture.width) + " x "
                                      + std::to_string (picture.height));
    FrameHandle frame (av_frame_alloc());
    frame->format = format;
    frame->width = picture.width;
    frame->height = picture.height;
    frame->pts = 0;
    frame->quality = quality * FF_QP2LAMBDA;
    if (const int code = av_frame_get_buffer (frame.get(), 0); code < 0)
        return failed (where, libavText (code));
    return frame;
}

Result<PacketHandle> StillCodec::encode (const std::string& where, const AVFrame& frame) const
{
    const AVCodec* encoder = avcodec_find_encoder (id);
    if (encoder == nullptr)
        return failed (where, "this libav has no " + name + " encoder; install the full FFmpeg libraries");
    const CodecHandle codec (avcodec_alloc_context3 (encoder));
    codec->width = frame.width;
    codec->height = frame.height;
    codec->pix_fmt = format;
    codec->time_base = { 1, 1 };
    codec->thread_count = 1;
    if (quality > 0)
    {
        codec->color_range = AVCOL_RANGE_JPEG;
        codec->flags |= AV_CODEC_FLAG_QSCALE | AV_CODEC_FLAG_BITEXACT;
        codec->global_quality = quality * FF_QP2LAMBDA;
    }
    PacketHandle packet (av_packet_alloc());
    int code = avcodec_open2 (codec.get(), encoder, nullptr);
    if (code >= 0)
        code = avcodec_send_frame (codec.get(), &frame);
    if (code >= 0)
        code = avcodec_send_frame (codec.get(), nullptr);
    if (code >= 0)
        code = avcodec_receive_packet (codec.get(), packet.get());
    if (code < 0)
        return failed (where, libavText (code));
    return packet;
}
} // namespace shutterbeat::media
