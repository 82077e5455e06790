#pragma once

#include "media/FrameIndex.h"
#include "media/ImageSequence.h"
#include "media/Libav.h"
#include "time/Result.h"

#include <memory>
#include <string>

namespace shutterbeat::media
{
/// An open media file and its picture track, or a sequence of picture files that passes for one: its packets are the
/// files, their timestamps the file frames. One thread at a time.
class PictureStream
{
public:
    /// Error unreadable, where = path: everything that openFilm names except what only reading through can tell.
    static Result<PictureStream> open (const std::string& path);

    /// Reads on to the next packet of the picture track. False at the end; see endReason().
    bool next();
    /// The packet that next() read; its data is valid until the next call.
    [[nodiscard]] AVPacket& packet() const { return *current; }
    /// What the index keeps of it.
    [[nodiscard]] IndexedPacket facts() const;
    /// 0 when the last next() met the end of the file, else libav's error.
    [[nodiscard]] int endReason() const { return ended == AVERROR_EOF ? 0 : ended; }
    /// The latest end of any packet of any track seen so far, in microseconds of the container.
    [[nodiscard]] std::int64_t latestEnd() const { return latest; }

    /// From now on nothing of the other tracks is read where the container can skip it; survives rewind().
    void ignoreOtherTracks();
    /// Moves near `timestamp` (stream time base), before it if the container can. False when it can't.
    bool seek (std::int64_t timestamp);
    /// Back to the first packet, by opening the file anew: the packets come exactly as the first time.
    Result<Done> rewind();

    /// The files it is made of, or null for a film in one file. format() and stream() are then those of the first of them.
    [[nodiscard]] const ImageSequence* sequence() const { return pictures.get(); }

    [[nodiscard]] AVFormatContext& format() const { return *container; }
    [[nodiscard]] AVStream& stream() const { return *container->streams[number]; }
    [[nodiscard]] const std::string& path() const { return name; }

private:
    static Result<PictureStream> openFile (const std::string& path);
    static Result<PictureStream> openPictures (const std::string& path, ImageSequence sequence);
    bool nextPicture();

    std::string name;
    std::shared_ptr<const ImageSequence> pictures;
    std::int64_t upcoming = 0; ///< the next of the pictures
    FormatHandle container;
    PacketHandle current;
    unsigned number = 0;
    bool alone = false;
    int ended = AVERROR_EOF;
    std::int64_t latest = 0;
};
} // namespace shutterbeat::media
