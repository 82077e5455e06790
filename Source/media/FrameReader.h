#pragma once

#include "film/GreyPicture.h"
#include "media/FilmFile.h"
#include "media/FrameIndex.h"
#include "media/Picture.h"
#include "time/Result.h"

#include <cstddef>
#include <memory>
#include <set>
#include <string>

namespace shutterbeat::media
{
class PictureStream;
enum class DecoderThreads;

/// Shows exactly file frame k, for any k in any order: the same picture as decoding from the start gives. A frame that
/// can't be decoded keeps its place and shows the last one that could, marked as damaged. One thread at a time; several
/// readers of one file do not disturb each other.
class FrameReader
{
public:
    /// cacheBytes: how much memory decoded pictures may take, for stepping back. Error: as openFilm.
    static Result<std::unique_ptr<FrameReader>> open (const std::string& path, std::size_t cacheBytes = std::size_t (192) << 20);
    /// A reader for a film that is indexed already; several may share the index.
    static Result<std::unique_ptr<FrameReader>> open (const FilmInfo& info, std::shared_ptr<const FrameIndex> index,
                                                      PictureStream stream, DecoderThreads threads, std::size_t cacheBytes);
    ~FrameReader();

    [[nodiscard]] const FilmInfo& info() const;
    /// When each frame is shown, for files with uneven steps.
    [[nodiscard]] const FrameIndex& index() const;

    /// File frame k (0 to info().frames - 1) scaled to width x height; 0 x 0 is the display size.
    /// Error usage: no such frame, an impossible size. Error unreadable: the file can't be read any more.
    Result<Picture> frame (std::int64_t k, int width = 0, int height = 0);
    /// The same as a grey picture, by the same reduction as forEachGrey.
    Result<film::GreyPicture> greyFrame (std::int64_t k, int width, int height);

    /// Says that only these file frames will be asked for, best in rising order: others are not decoded where nothing is made
    /// from them. One that is asked for all the same is the same picture, but takes longer.
    void onlyThese (std::set<std::int64_t> frames);
    /// How many pictures have been decoded since opening, for measuring.
    [[nodiscard]] std::int64_t decodedSoFar() const;

private:
    struct State;
    explicit FrameReader (std::unique_ptr<State> opened);
    std::unique_ptr<State> state;
};
} // namespace shutterbeat::media
