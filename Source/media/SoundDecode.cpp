#include "media/SoundTrack.h"

extern "C"
{
#include <libavutil/channel_layout.h>
}

#include <cstring>

namespace shutterbeat::media
{
namespace
{
template <class T, class Convert>
void copySamples (const AVFrame& frame, bool planar, int channels, std::vector<float>& out, Convert convert)
{
    const auto count = static_cast<std::size_t> (frame.nb_samples);
    const auto wide = static_cast<std::size_t> (channels);
    for (std::size_t c = 0; c < wide; ++c)
    {
        const auto* from = reinterpret_cast<const T*> (frame.extended_data[planar ? c : 0]) + (planar ? 0 : c);
        const std::size_t step = planar ? 1 : wide;
        for (std::size_t i = 0; i < count; ++i)
            out[i * wide + c] = convert (from[i * step]);
    }
}

bool interleave (const AVFrame& frame, std::vector<float>& out)
{
    const int channels = frame.ch_layout.nb_channels;
    if (channels < 1 || frame.nb_samples < 1)
        return false;
    out.resize (static_cast<std::size_t> (frame.nb_samples) * static_cast<std::size_t> (channels));
    const auto format = static_cast<AVSampleFormat> (frame.format);
    const bool planar = av_sample_fmt_is_planar (format) != 0;
    switch (av_get_packed_sample_fmt (format))
    {
    case AV_SAMPLE_FMT_U8:
        copySamples<std::uint8_t> (frame, planar, channels, out, [] (std::uint8_t x) { return float (int (x) - 128) / 128.0f; });
        return true;
    case AV_SAMPLE_FMT_S16:
        copySamples<std::int16_t> (frame, planar, channels, out, [] (std::int16_t x) { return float (x) / 32768.0f; });
        return true;
    case AV_SAMPLE_FMT_S32:
        copySamples<std::int32_t> (frame, planar, channels, out, [] (std::int32_t x) { return float (double (x) / 2147483648.0); });
        return true;
    case AV_SAMPLE_FMT_S64:
        copySamples<std::int64_t> (frame, planar, channels, out,
                                   [] (std::int64_t x) { return float (double (x) / 9223372036854775808.0); });
        return true;
    case AV_SAMPLE_FMT_FLT:
        copySamples<float> (frame, planar, channels, out, [] (float x) { return x; });
        return true;
    case AV_SAMPLE_FMT_DBL:
        copySamples<double> (frame, planar, channels, out, [] (double x) { return float (x); });
        return true;
    default:
        return false;
    }
}
} // namespace

CodecHandle soundDecoder (const SoundTrack& track)
{
    const auto& parameters = *track.stream().codecpar;
    const AVCodec* found = avcodec_find_decoder (parameters.codec_id);
    if (found == nullptr)
        return {};
    CodecHandle codec (avcodec_alloc_context3 (found));
    if (! codec || avcodec_parameters_to_context (codec.get(), &parameters) < 0)
        return {};
    // Packets are handed over with sample numbers as their time, and nothing is trimmed behind our back.
    codec->pkt_timebase = { 1, track.info.rate };
    codec->flags2 |= AV_CODEC_FLAG2_SKIP_MANUAL;
    codec->thread_count = 1;
    if (avcodec_open2 (codec.get(), found, nullptr) < 0)
        return {};
    return codec;
}

bool decodeSound (AVCodecContext& codec, AVPacket* packet, std::int64_t at, const SamplesSink& sink)
{
    if (packet != nullptr)
    {
        if (packet->size == 0)
            return true; // to libav an empty packet would be the end
        packet->pts = packet->dts = at;
        packet->duration = 0;
    }
    bool whole = avcodec_send_packet (&codec, packet) >= 0;
    std::vector<float> samples;
    std::int64_t follows = at;
    for (int faults = 0; faults < 16;)
    {
        const FrameHandle frame (av_frame_alloc());
        const int code = avcodec_receive_frame (&codec, frame.get());
        if (code == AVERROR (EAGAIN) || code == AVERROR_EOF)
            return whole;
        if (code < 0 || ! interleave (*frame, samples))
        {
            whole = false;
            ++faults;
            continue;
        }
        const std::int64_t begins = frame->pts == AV_NOPTS_VALUE ? follows : frame->pts;
        follows = begins + frame->nb_samples;
        sink (begins, frame->ch_layout.nb_channels, samples);
    }
    return false;
}
} // namespace shutterbeat::media
