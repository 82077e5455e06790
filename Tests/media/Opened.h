#pragma once

#include "Catch.h"

#include "media/FilmFile.h"

namespace shutterbeat::tests
{
/// A film that has to open.
inline media::FilmInfo opened (const std::string& path)
{
    auto info = media::openFilm (path);
    INFO ((info ? path : info.error().text()));
    REQUIRE (info);
    return *info;
}

inline time::Rational ratio (int n, int d)
{
    return { time::Int128 (n), time::Int128 (d) };
}
} // namespace shutterbeat::tests
