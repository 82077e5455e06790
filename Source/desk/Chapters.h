#pragma once

#include "desk/Import.h"
#include "desk/OpenBook.h"
#include "exchange/Chapters.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// How chapters go into a movie.
struct ChaptersWish
{
    spotting::Asked asked;
    std::size_t reel = 0;             ///< of the edition
    std::vector<std::string> ids;     ///< cues and hits that begin a chapter besides every cue of music
    bool onKeyPictures = false;       ///< moved back to the last key picture at or before it
    std::optional<int> leaderSeconds; ///< before the picture in the movie; none: by the movie's start timecode
};

/// Frames of a movie of a reel before picture start: as said, else by its start timecode; 0 where it has none. Error: a movie
/// that can't be read, of another rate than the delivery's, or shorter than leader and picture.
Result<std::int64_t> leaderOfMovie (const film::Timings& timings, std::size_t reel, const std::string& movie,
                                    const std::optional<int>& leaderSeconds = {});

struct MovieChapters
{
    std::vector<exchange::Chapter> chapters; ///< delivered frames from picture start
    std::int64_t leaderFrames = 0;           ///< of the movie, before picture start
    std::int64_t frames = 0;                 ///< of the movie
    std::vector<std::string> notes;          ///< what was moved among them
};

/// Works out which chapters a movie of a reel gets, and where in it. Error: a movie that can't be read, of another rate than the
/// delivery's, or shorter than leader and picture; as exchange::chaptersOf.
Result<MovieChapters> chaptersForMovie (const OpenBook& open, const std::string& movie, const ChaptersWish& wish);

/// Copies the movie with those chapters (media::copyWithChapters).
Result<Done> writeMovieChapters (const OpenBook& open, const std::string& movie, const std::string& path, const ChaptersWish& wish,
                                 const MovieChapters& chapters, const Progress& progress = {});

/// The chapters inside a movie as the text of a chapter list counted from picture start; ones before it are named in `notes`.
/// Error: as chaptersForMovie.
Result<std::string> chapterListOfMovie (const OpenBook& open, const std::string& movie, const ImportWish& wish,
                                        std::vector<std::string>& notes);
} // namespace shutterbeat::desk
