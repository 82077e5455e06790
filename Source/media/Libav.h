#pragma once

#include "time/Rational.h"

extern "C"
{
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/avutil.h>
#include <libavutil/frame.h>
#include <libswscale/swscale.h>
}

#include <memory>
#include <string>

/// What every file of this folder that talks to libav shares: owners of its objects, and its words.
namespace shutterbeat::media
{
struct FormatCloser
{
    void operator() (AVFormatContext* format) const { avformat_close_input (&format); }
};
struct CodecFreer
{
    void operator() (AVCodecContext* codec) const { avcodec_free_context (&codec); }
};
struct FrameFreer
{
    void operator() (AVFrame* frame) const { av_frame_free (&frame); }
};
struct PacketFreer
{
    void operator() (AVPacket* packet) const { av_packet_free (&packet); }
};
struct ScalerFreer
{
    void operator() (SwsContext* scaler) const { sws_freeContext (scaler); }
};
struct DictionaryFreer
{
    void operator() (AVDictionary* dictionary) const { av_dict_free (&dictionary); }
};
using FormatHandle = std::unique_ptr<AVFormatContext, FormatCloser>;
using CodecHandle = std::unique_ptr<AVCodecContext, CodecFreer>;
using FrameHandle = std::unique_ptr<AVFrame, FrameFreer>;
using PacketHandle = std::unique_ptr<AVPacket, PacketFreer>;
using ScalerHandle = std::unique_ptr<SwsContext, ScalerFreer>;

/// libav writes its own remarks to stderr; ours are Errors and warnings. Harmless to call again.
void silenceLibav();

/// Opens a file of this machine, and nothing else: "file:" keeps a colon in the name from being read as a protocol, and a playlist
/// or a container that names others is kept off the network. `kind` when it is known. Gives libav's code.
int openLocal (AVFormatContext*& raw, const std::string& path, const AVInputFormat* kind = nullptr);

/// What libav says about a negative return value.
std::string libavText (int code);

/// n/d as it stands; invalid when libav does not know (d = 0).
inline time::Rational rationalOf (AVRational value)
{
    return { time::Int128 (value.num), time::Int128 (value.den) };
}
} // namespace shutterbeat::media
