#pragma once

#include "media/FilmFile.h"
#include "media/FrameIndex.h"
#include "media/PictureStream.h"

namespace shutterbeat::media
{
/// A file that has been opened and read through once: what it is, its pictures, and the open stream (anywhere).
struct IndexedFilm
{
    FilmInfo info;
    FrameIndex index;
    PictureStream stream;
};

/// From the cache where the file was read through before and has not changed since (see IndexCache.h), else by reading it.
/// Error and declaredRate: as openFilm.
Result<IndexedFilm> indexFilm (const std::string& path, const time::Rational& declaredRate = {});
} // namespace shutterbeat::media
