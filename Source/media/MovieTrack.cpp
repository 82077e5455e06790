#include "media/MovieTrack.h"

#include <algorithm>

extern "C"
{
#include <libavutil/channel_layout.h>
#include <libavutil/opt.h>
}

namespace shutterbeat::media
{
namespace
{
/// x264 decides a little otherwise with another number of threads, so the number must not be the machine's.
constexpr int threads = 4;

AVRational libavRational (const time::Rational& x)
{
    return { static_cast<int> (x.numerator()), static_cast<int> (x.denominator()) };
}

Result<const AVCodec*> encoderOf (const std::string& path, const char* name)
{
    if (const auto* found = avcodec_find_encoder_by_name (name))
        return found;
    return cannotWrite (path, std::string ("this libav has no encoder ") + name + "; install the full FFmpeg libraries");
}

Result<MovieTrack> opened (AVFormatContext& format, const std::string& path, CodecHandle codec, AVDictionary* options)
{
    if ((format.oformat->flags & AVFMT_GLOBALHEADER) != 0)
        codec->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
    codec->flags |= AV_CODEC_FLAG_BITEXACT;
    const std::unique_ptr<AVDictionary, DictionaryFreer> given (options);
    AVDictionary* left = nullptr;
    av_dict_copy (&left, given.get(), 0);
    const int code = avcodec_open2 (codec.get(), codec->codec, &left);
    av_dict_free (&left);
    if (code < 0)
        return cannotWrite (path, std::string ("the encoder ") + codec->codec->name + " does not take these settings ("
                                      + libavText (code) + "); try another size, rate or codec");
    MovieTrack track{ std::move (codec), avformat_new_stream (&format, nullptr) };
    if (track.stream == nullptr || avcodec_parameters_from_context (track.stream->codecpar, track.codec.get()) < 0)
        return cannotWrite (path, "there is no memory for its tracks; close other programs");
    track.stream->time_base = track.codec->time_base;
    return track;
}
} // namespace

void OutputCloser::operator() (AVFormatContext* format) const
{
    avio_closep (&format->pb);
    avformat_free_context (format);
}

int MovieTrack::write (AVFormatContext& format, AVFrame* frame) const
{
    int code = avcodec_send_frame (codec.get(), frame);
    const PacketHandle packet (av_packet_alloc());
    while (code >= 0)
    {
        code = avcodec_receive_packet (codec.get(), packet.get());
        if (code == AVERROR (EAGAIN) || code == AVERROR_EOF)
            return 0;
        if (code < 0)
            break;
        if (packet->duration == 0 && codec->codec_type == AVMEDIA_TYPE_VIDEO)
            packet->duration = 1;
        packet->stream_index = stream->index;
        av_packet_rescale_ts (packet.get(), codec->time_base, stream->time_base);
        code = av_interleaved_write_frame (&format, packet.get());
    }
    return code;
}

Result<MovieTrack> addPictureTrack (AVFormatContext& format, const std::string& path, const MovieSpec& spec)
{
    const bool h264 = spec.codec == MovieCodec::h264;
    const auto encoder = encoderOf (path, h264 ? "libx264" : "prores_ks");
    if (! encoder)
        return encoder.error();
    CodecHandle codec (avcodec_alloc_context3 (*encoder));
    codec->width = spec.width;
    codec->height = spec.height;
    codec->framerate = libavRational (spec.rate);
    codec->time_base = av_inv_q (codec->framerate);
    codec->sample_aspect_ratio = libavRational (spec.pixelShape);
    codec->pix_fmt = h264 ? AV_PIX_FMT_YUV420P : AV_PIX_FMT_YUV422P10;
    codec->colorspace = AVCOL_SPC_BT709;
    codec->color_primaries = AVCOL_PRI_BT709;
    codec->color_trc = AVCOL_TRC_BT709;
    codec->color_range = AVCOL_RANGE_MPEG;
    codec->chroma_sample_location = AVCHROMA_LOC_LEFT;
    codec->thread_count = threads;
    AVDictionary* options = nullptr;
    if (h264)
    {
        codec->gop_size =
            spec.keyEvery > 0 ? spec.keyEvery : static_cast<int> (std::max<std::int64_t> (1, time::roundOf (spec.rate)));
        codec->max_b_frames = spec.between;
        codec->flags |= AV_CODEC_FLAG_CLOSED_GOP;
        av_dict_set (&options, "preset", spec.preset.c_str(), 0);
        av_dict_set_int (&options, "crf", spec.crf, 0);
        // Lossless H.264 is no part of the profile that everything plays.
        if (spec.crf > 0)
            av_dict_set (&options, "profile", "high", 0);
    }
    else
    {
        av_dict_set (&options, "profile", "standard", 0);
        av_dict_set (&options, "vendor", "sbt0", 0);
    }
    auto track = opened (format, path, std::move (codec), options);
    if (track)
    {
        track->stream->avg_frame_rate = track->codec->framerate;
        track->stream->r_frame_rate = track->codec->framerate;
        track->stream->sample_aspect_ratio = track->codec->sample_aspect_ratio;
        if (! spec.startLabel.empty())
            av_dict_set (&track->stream->metadata, "timecode", spec.startLabel.c_str(), 0);
    }
    return track;
}

Result<MovieTrack> addSoundTrack (AVFormatContext& format, const std::string& path, const MovieSpec& spec)
{
    const bool aac = spec.codec == MovieCodec::h264;
    const auto encoder = encoderOf (path, aac ? "aac" : "pcm_s24le");
    if (! encoder)
        return encoder.error();
    CodecHandle codec (avcodec_alloc_context3 (*encoder));
    codec->sample_rate = spec.soundRate;
    codec->time_base = { 1, spec.soundRate };
    codec->sample_fmt = aac ? AV_SAMPLE_FMT_FLTP : AV_SAMPLE_FMT_S32;
    av_channel_layout_default (&codec->ch_layout, MovieWriter::channels);
    if (aac)
        codec->bit_rate = 256000;
    return opened (format, path, std::move (codec), nullptr);
}
} // namespace shutterbeat::media
