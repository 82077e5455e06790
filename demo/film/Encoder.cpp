#include "Encoder.h"

#include "Stage.h"

extern "C"
{
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/opt.h>
}

#include <array>
#include <cstdio>
#include <cstring>
#include <filesystem>

namespace shutterbeat::demo
{

namespace
{
constexpr int kFileFramesPerSecond = 25;
constexpr int kGroupFrames = 46; // about how often a group of pictures starts

std::string reason (int code)
{
    std::array<char, AV_ERROR_MAX_STRING_SIZE> text{};
    av_strerror (code, text.data(), text.size());
    return text.data();
}
} // namespace

struct Encoder::State
{
    AVFormatContext* container = nullptr;
    AVCodecContext* codec = nullptr;
    AVStream* stream = nullptr;
    AVFrame* frame = nullptr;
    AVPacket* packet = nullptr;
    std::string path;
    std::string working;
    std::int64_t next = 0;
    std::int64_t groupStart = 0;
    bool h264 = false;
    bool finished = false;

    ~State()
    {
        av_packet_free (&packet);
        av_frame_free (&frame);
        avcodec_free_context (&codec);
        if (container != nullptr)
        {
            avio_closep (&container->pb);
            avformat_free_context (container);
        }
        if (! finished && ! working.empty())
        {
            std::error_code ignored;
            std::filesystem::remove (working, ignored);
        }
    }
};

Encoder::Encoder()
    : state_ (std::make_unique<State>())
{
}
Encoder::~Encoder() = default;

bool Encoder::isH264() const
{
    return state_->h264;
}

std::optional<std::string> Encoder::open (const std::string& path, int toneU, int toneV)
{
    State& s = *state_;
    s.path = path;
    s.working = path + ".part";
    if (const int code = avformat_alloc_output_context2 (&s.container, nullptr, "mp4", s.working.c_str()); code < 0)
        return path + ": no MP4 writer: " + reason (code);

    const AVCodec* codec = avcodec_find_encoder_by_name ("libx264");
    s.h264 = codec != nullptr;
    if (codec == nullptr)
        codec = avcodec_find_encoder (AV_CODEC_ID_MPEG4);
    if (codec == nullptr)
        return path + ": libavcodec has neither libx264 nor an MPEG-4 encoder; install a build that has one";

    s.stream = avformat_new_stream (s.container, nullptr);
    s.codec = avcodec_alloc_context3 (codec);
    s.frame = av_frame_alloc();
    s.packet = av_packet_alloc();
    if (s.stream == nullptr || s.codec == nullptr || s.frame == nullptr || s.packet == nullptr)
        return path + ": out of memory";

    s.codec->width = kFrameWidth;
    s.codec->height = kFrameHeight;
    s.codec->pix_fmt = AV_PIX_FMT_YUV420P;
    s.codec->time_base = { 1, kFileFramesPerSecond };
    s.codec->framerate = { kFileFramesPerSecond, 1 };
    s.codec->sample_aspect_ratio = { 1, 1 };
    s.codec->color_range = AVCOL_RANGE_MPEG;
    s.codec->gop_size = 100;
    // One thread and no version strings: the same bytes every time.
    s.codec->thread_count = 1;
    s.codec->flags |= AV_CODEC_FLAG_BITEXACT;
    s.container->flags |= AVFMT_FLAG_BITEXACT;
    if ((s.container->oformat->flags & AVFMT_GLOBALHEADER) != 0)
        s.codec->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
    if (s.h264)
    {
        av_opt_set (s.codec->priv_data, "preset", "veryfast", 0);
        av_opt_set (s.codec->priv_data, "crf", "24", 0);
        // No trellis search over grain, which nobody would see; and one quality for all kinds of frames, so that a
        // repeat looks like what it repeats.
        av_opt_set (s.codec->priv_data, "x264-params", "trellis=0:mbtree=0:ipratio=1.1:pbratio=1.0", 0);
    }
    else
    {
        s.codec->flags |= AV_CODEC_FLAG_QSCALE;
        s.codec->global_quality = FF_QP2LAMBDA * 4;
    }
    if (const int code = avcodec_open2 (s.codec, codec, nullptr); code < 0)
        return path + ": cannot start the encoder " + codec->name + ": " + reason (code);

    avcodec_parameters_from_context (s.stream->codecpar, s.codec);
    s.stream->time_base = s.codec->time_base;
    s.stream->avg_frame_rate = s.codec->framerate;
    s.stream->sample_aspect_ratio = { 1, 1 };
    // The MP4 writer makes a timecode track of this.
    av_dict_set (&s.stream->metadata, "timecode", "01:00:00:00", 0);

    if (const int code = avio_open (&s.container->pb, s.working.c_str(), AVIO_FLAG_WRITE); code < 0)
        return s.working + ": cannot write: " + reason (code);
    if (const int code = avformat_write_header (s.container, nullptr); code < 0)
        return s.working + ": cannot write: " + reason (code);

    s.frame->format = s.codec->pix_fmt;
    s.frame->width = kFrameWidth;
    s.frame->height = kFrameHeight;
    if (const int code = av_frame_get_buffer (s.frame, 0); code < 0)
        return path + ": " + reason (code);
    for (int y = 0; y < kFrameHeight / 2; ++y)
    {
        std::memset (s.frame->data[1] + static_cast<std::ptrdiff_t> (y) * s.frame->linesize[1], toneU, kFrameWidth / 2);
        std::memset (s.frame->data[2] + static_cast<std::ptrdiff_t> (y) * s.frame->linesize[2], toneV, kFrameWidth / 2);
    }
    return std::nullopt;
}

std::optional<std::string> Encoder::drain()
{
    State& s = *state_;
    while (true)
    {
        const int code = avcodec_receive_packet (s.codec, s.packet);
        if (code == AVERROR (EAGAIN) || code == AVERROR_EOF)
            return std::nullopt;
        if (code < 0)
            return s.path + ": encoding failed: " + reason (code);
        s.packet->stream_index = s.stream->index;
        if (s.packet->duration == 0)
            s.packet->duration = 1;
        av_packet_rescale_ts (s.packet, s.codec->time_base, s.stream->time_base);
        if (const int wrote = av_interleaved_write_frame (s.container, s.packet); wrote < 0)
            return s.working + ": cannot write: " + reason (wrote);
    }
}

std::optional<std::string> Encoder::write (const std::vector<std::uint8_t>& luma, bool repeats)
{
    State& s = *state_;
    if (const int code = av_frame_make_writable (s.frame); code < 0)
        return s.path + ": " + reason (code);
    for (int y = 0; y < kFrameHeight; ++y)
        std::memcpy (s.frame->data[0] + static_cast<std::ptrdiff_t> (y) * s.frame->linesize[0],
                     luma.data() + static_cast<std::size_t> (y) * kFrameWidth, kFrameWidth);
    // A group that started on a repeat would make it look new.
    const bool starts = ! repeats && s.next - s.groupStart >= kGroupFrames;
    s.frame->pict_type = starts ? AV_PICTURE_TYPE_I : AV_PICTURE_TYPE_NONE;
    if (starts)
        s.groupStart = s.next;
    s.frame->pts = s.next++;
    if (! s.h264)
        s.frame->quality = s.codec->global_quality;
    if (const int code = avcodec_send_frame (s.codec, s.frame); code < 0)
        return s.path + ": encoding failed: " + reason (code);
    return drain();
}

std::optional<std::string> Encoder::finish()
{
    State& s = *state_;
    avcodec_send_frame (s.codec, nullptr);
    if (auto error = drain())
        return error;
    if (const int code = av_write_trailer (s.container); code < 0)
        return s.working + ": cannot write: " + reason (code);
    if (const int code = avio_closep (&s.container->pb); code < 0)
        return s.working + ": cannot write: " + reason (code);
    if (std::rename (s.working.c_str(), s.path.c_str()) != 0)
        return s.path + ": cannot put the finished film in its place";
    s.finished = true;
    return std::nullopt;
}

} // namespace shutterbeat::demo
