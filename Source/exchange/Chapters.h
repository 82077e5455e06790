#pragma once

#include "exchange/CsvTable.h"
#include "exchange/Written.h"
#include "spotting/Times.h"

namespace shutterbeat::exchange
{
/// A chapter of a delivered reel.
struct Chapter
{
    std::int64_t frame = 0; ///< delivered frame it begins on
    std::string title;
};

/// Which cues and hits begin a chapter.
struct ChapterWish
{
    bool cues = true;             ///< every cue that is music or seen music, titled by its title, else its number
    std::vector<std::string> ids; ///< cues and hits besides, by id, titled by label or title
};

/// The chapters of a reel in order, the first at picture start (titled by what lies there, else by the book's title). Of two on one
/// frame the first keeps its place and takes both titles. What lies outside the picture is left out.
/// Error: an id that is neither a cue nor a hit.
Result<std::vector<Chapter>> chaptersOf (const spotting::BookTimes& times, const ListHead& head, const ChapterWish& wish,
                                         std::size_t reel);

/// Moves each chapter but the first back to the last key picture at or before it, and says in `notes` by how much.
/// `keyFrames`: delivered frames of the encoded movie, rising.
std::vector<Chapter> onKeyFrames (std::vector<Chapter> chapters, const std::vector<std::int64_t>& keyFrames,
                                  const time::Rational& rate, std::vector<std::string>& notes);

/// FFmpeg metadata text (handbook 7.6), one file a reel: a chapter from each frame to the next. Its time base is one delivered
/// frame, so that START is the frame itself.
Result<Written> writeChapters (const spotting::BookTimes& times, const ListHead& head, const ChapterWish& wish = {});

/// A chapter as a file has it.
struct ListedChapter
{
    std::int64_t line = 1;
    time::Rational start; ///< exact seconds
    std::optional<time::Rational> end;
    std::string title;
};

struct ChapterList
{
    std::string title; ///< of the whole
    std::vector<ListedChapter> chapters;
    std::vector<BadLine> bad;
    std::vector<std::string> notes; ///< a chapter without TIMEBASE is read in nanoseconds
};

/// FFmpeg metadata text of chapters that came from elsewhere, exactly as they lie.
std::string chapterListText (const std::vector<ListedChapter>& chapters);

/// Reads FFmpeg metadata text: its chapters and title; the rest is passed over. Error: not such a file.
Result<ChapterList> readChapters (std::string_view bytes);
} // namespace shutterbeat::exchange
