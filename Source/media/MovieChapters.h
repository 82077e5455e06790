#pragma once

#include "time/Rational.h"
#include "time/Result.h"

#include <functional>
#include <string>
#include <vector>

namespace shutterbeat::media
{
/// A chapter of a movie file.
struct MovieChapter
{
    time::Rational start, end; ///< exact seconds from the movie's first picture
    std::string title;

    friend bool operator== (const MovieChapter&, const MovieChapter&) = default;
};

/// The chapters of any file libav reads, in the order it has them; none is no error. Error: unreadable.
Result<std::vector<MovieChapter>> readMovieChapters (const std::string& path);

/// Told how far the copy is, 0 to 1; false stops it.
using ChapterWatch = std::function<bool (double fraction)>;

/// Copies a movie as it is, nothing encoded again, with these chapters in place of its own, to .mp4, .m4v, .mov or .mkv. Picture,
/// sound, subtitles, tags and start timecode go along. Whole or not at all.
/// Error: unreadable; usage for another ending, or the movie itself as target; cannotWrite; cancelled.
Result<Done> copyWithChapters (const std::string& movie, const std::string& path, const std::vector<MovieChapter>& chapters,
                               const ChapterWatch& watch = {});
} // namespace shutterbeat::media
