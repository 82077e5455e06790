#pragma once

#include <cstddef>

/// Heights of the band's rows at 100 %, from its top.
namespace shutterbeat::window::band
{
inline constexpr float margin = 12.0f;
inline constexpr float overviewTop = 0.0f, overviewHeight = 7.0f;
inline constexpr float rulerTop = 9.0f, rulerHeight = 22.0f;
inline constexpr float filmTop = 33.0f, filmHeight = 46.0f;
inline constexpr float speedTop = 80.0f, speedHeight = 13.0f;
inline constexpr float hitsTop = 92.0f, levelHeight = 18.0f, mark = 13.0f;
inline constexpr std::size_t levels = 3;
inline constexpr float cuesTop = 153.0f, cuesHeight = 24.0f;
inline constexpr float soundsTop = 182.0f, soundsHeight = 38.0f;
/// Of the whole band; sounds have a row only where the book has some.
constexpr int heightWith (bool sounds)
{
    return sounds ? 226 : 187;
}
} // namespace shutterbeat::window::band
