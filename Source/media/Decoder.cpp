#include "media/Decoder.h"

#include <algorithm>
#include <cstring>

namespace shutterbeat::media
{
namespace
{
bool standAlone (const AVStream& stream)
{
    const AVCodecDescriptor* described = avcodec_descriptor_get (stream.codecpar->codec_id);
    return described != nullptr && (described->props & AV_CODEC_PROP_INTRA_ONLY) != 0;
}

bool isLarge (const AVStream& stream)
{
    return std::int64_t (stream.codecpar->width) * stream.codecpar->height > std::int64_t (2048) * 1200;
}

/// Codecs that stand alone and always cut a picture into parts that can be decoded at once, so that a single one comes
/// sooner.
bool hasManySlices (const AVStream& stream)
{
    const auto codec = stream.codecpar->codec_id;
    return codec == AV_CODEC_ID_PRORES || codec == AV_CODEC_ID_DNXHD || codec == AV_CODEC_ID_DVVIDEO;
}

/// Codecs whose decoder never says that it made up parts of a picture, only that a packet was no good.
bool tellsNoDamage (const AVStream& stream)
{
    return stream.codecpar->codec_id != AV_CODEC_ID_H264 && stream.codecpar->codec_id != AV_CODEC_ID_MPEG1VIDEO
           && stream.codecpar->codec_id != AV_CODEC_ID_MPEG2VIDEO && stream.codecpar->codec_id != AV_CODEC_ID_MPEG4;
}

/// libav's own buffers, emptied: where data is missing some decoders leave standing what was in memory before.
int emptyBuffer (AVCodecContext* context, AVFrame* frame, int flags)
{
    const int code = avcodec_default_get_buffer2 (context, frame, flags);
    if (code >= 0)
        for (auto* buffer : frame->buf)
            if (buffer != nullptr)
                std::memset (buffer->data, 0, static_cast<std::size_t> (buffer->size));
    return code;
}
} // namespace

Result<Decoder> Decoder::open (const std::string& path, const AVStream& stream, int reorder, DecoderThreads threads)
{
    const auto& parameters = *stream.codecpar;
    const AVCodec* found = avcodec_find_decoder (parameters.codec_id);
    const std::string name = avcodec_get_name (parameters.codec_id);
    if (found == nullptr)
        return unreadable (path,
                           "its picture is coded as " + name + ", which can't be decoded here; convert it to another codec first");

    Decoder decoder;
    decoder.codec.reset (avcodec_alloc_context3 (found));
    auto& context = *decoder.codec;
    if (avcodec_parameters_to_context (&context, &parameters) < 0)
        return unreadable (path, "its picture track has settings that make no sense; convert it to another file first");
    context.pkt_timebase = stream.time_base;
    const bool single = threads == DecoderThreads::exact || threads == DecoderThreads::one;
    context.thread_count = single ? 1 : 0;
    // With a thread a picture libav may hand one on before the thread that decodes it has come upon the damage in it;
    // threads that share one picture are all done when it comes.
    const bool shared = threads == DecoderThreads::sure
                        && (standAlone (stream) ? hasManySlices (stream) : ! isLarge (stream) || ! tellsNoDamage (stream));
    context.thread_type = shared ? FF_THREAD_SLICE : FF_THREAD_FRAME | FF_THREAD_SLICE;
    // It costs a tenth of the decoding; where damage is told only an exact decoder ever shows a picture that has any.
    if (threads == DecoderThreads::exact || ((single || shared) && tellsNoDamage (stream)))
        context.get_buffer2 = emptyBuffer;
    // A header may promise less reordering than the pictures need; H.264 would then drop the late ones.
    if (parameters.codec_id == AV_CODEC_ID_H264)
        context.has_b_frames = std::min (16, std::max (context.has_b_frames, reorder));
    if (avcodec_open2 (&context, found, nullptr) < 0)
        return unreadable (path, "its picture track (" + name + ") can't be decoded; convert it to another file first");
    return decoder;
}

void Decoder::feed (AVPacket& packet, std::int64_t number, const Sink& sink)
{
    if (packet.size == 0)
        return; // to libav an empty packet would be the end
    packet.pts = number;
    packet.dts = number;
    const int code = avcodec_send_packet (codec.get(), &packet);
    if (code < 0 && code != AVERROR (EAGAIN))
        ++failures;
    receive (sink);
}

void Decoder::drain (const Sink& sink)
{
    avcodec_send_packet (codec.get(), nullptr);
    receive (sink);
}

void Decoder::receive (const Sink& sink)
{
    for (int faults = 0; faults < 64;)
    {
        DecodedFrame decoded{ FrameHandle (av_frame_alloc()) };
        const int code = avcodec_receive_frame (codec.get(), decoded.frame.get());
        if (code == AVERROR (EAGAIN) || code == AVERROR_EOF)
            return;
        if (code < 0)
        {
            ++failures;
            ++faults;
            continue;
        }
        decoded.packet = decoded.frame->pts;
        decoded.damaged = decoded.frame->decode_error_flags != 0 || (decoded.frame->flags & AV_FRAME_FLAG_CORRUPT) != 0;
        sink (std::move (decoded));
    }
}

void Decoder::flush()
{
    avcodec_flush_buffers (codec.get());
    failures = 0;
}
} // namespace shutterbeat::media
