#pragma once

#include "media/Libav.h"
#include "media/MovieWriter.h"
#include "time/Result.h"

#include <string>

namespace shutterbeat::media
{
struct OutputCloser
{
    void operator() (AVFormatContext* format) const;
};
/// A container being written; closed without its trailer when destroyed.
using OutputHandle = std::unique_ptr<AVFormatContext, OutputCloser>;

/// An encoder and the track its packets go to.
struct MovieTrack
{
    CodecHandle codec;
    AVStream* stream = nullptr;

    /// Sends a frame (null: the end) and writes every packet that comes out. libav's error or 0.
    [[nodiscard]] int write (AVFormatContext& format, AVFrame* frame) const;
};

/// Add a track to a container whose header is not written yet. Error cannotWrite: no such encoder, or its refusal.
Result<MovieTrack> addPictureTrack (AVFormatContext& format, const std::string& path, const MovieSpec& spec);
Result<MovieTrack> addSoundTrack (AVFormatContext& format, const std::string& path, const MovieSpec& spec);
} // namespace shutterbeat::media
