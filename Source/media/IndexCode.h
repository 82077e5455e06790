#pragma once

#include "media/FilmFile.h"
#include "media/FrameIndex.h"

#include <optional>
#include <string>
#include <string_view>

namespace shutterbeat::media
{
/// What is known of a film once it was read through. The path is not part of it: a film may be moved.
struct KnownFilm
{
    FilmInfo info;
    FrameIndex index;
};

/// As bytes, with their own checksum; the same bytes for the same film on every machine.
std::string encodeIndex (const KnownFilm& film);

/// Nothing unless `bytes` are, to the last one, what encodeIndex of this version wrote.
std::optional<KnownFilm> decodeIndex (std::string_view bytes);
} // namespace shutterbeat::media
