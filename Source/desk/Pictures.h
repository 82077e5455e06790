#pragma once

#include "desk/OpenBook.h"
#include "media/FrameReader.h"

#include <map>
#include <memory>
#include <string>

namespace shutterbeat::desk
{
/// Pictures of a book's films by source film frame. Opens each file once; ask in film order to decode little.
/// One thread at a time.
class Pictures
{
public:
    explicit Pictures (const OpenBook& open)
        : book (open)
    {
    }

    /// The picture at a position that has one, fitted into width x height at its display shape (0, 0: full size).
    /// Error: a made or outside position, a file that can't be read.
    Result<media::Picture> at (const film::Timings& timings, const film::Position& position, int width = 0, int height = 0);

    /// The picture of a source film frame of a print.
    Result<media::Picture> sourceFrame (const film::Print& print, std::int64_t filmFrame, int width = 0, int height = 0);

private:
    OpenBook book;
    std::map<std::string, std::unique_ptr<media::FrameReader>> readers;
};
} // namespace shutterbeat::desk
