#pragma once

#include "desk/OpenBook.h"
#include "media/FrameReader.h"

#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace shutterbeat::desk
{
/// Pictures of a book's films by source film frame. Opens each file once; ask in film order to decode little.
/// One thread at a time.
class Pictures
{
public:
    /// keep: how much memory the pictures of each file may take, for going back.
    explicit Pictures (const OpenBook& open, std::size_t keep = std::size_t (192) << 20)
        : book (open)
        , keepBytes (keep)
    {
    }

    /// The picture at a position that has one, fitted into width x height at its display shape (0, 0: full size).
    /// Error: a made or outside position, a file that can't be read.
    Result<media::Picture> at (const film::Timings& timings, const film::Position& position, int width = 0, int height = 0);

    /// The picture of a source film frame of a print.
    Result<media::Picture> sourceFrame (const film::Print& print, std::int64_t filmFrame, int width = 0, int height = 0);

    /// Says that only these source film frames will be asked for: less is decoded on the way to them. Error: a file that can't
    /// be read.
    Result<Done> onlyThese (const std::vector<std::pair<const film::Print*, std::int64_t>>& frames);

private:
    struct Where
    {
        std::string path;
        std::int64_t fileFrame = 0;
    };
    [[nodiscard]] Result<Where> whereIs (const film::Print& print, std::int64_t filmFrame) const;
    Result<media::FrameReader*> readerOf (const std::string& path);

    OpenBook book;
    std::size_t keepBytes;
    std::map<std::string, std::unique_ptr<media::FrameReader>> readers;
};
} // namespace shutterbeat::desk
