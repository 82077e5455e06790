#pragma once

#include <cstddef>

/// Heights of the band's rows at 100 %, from its top.
namespace shutterbeat::window::band
{
inline constexpr float margin = 12.0f;
inline constexpr float rulerTop = 6.0f, rulerHeight = 22.0f;
inline constexpr float filmTop = 30.0f, filmHeight = 46.0f;
inline constexpr float hitsTop = 80.0f, levelHeight = 20.0f, mark = 13.0f;
inline constexpr std::size_t levels = 3;
inline constexpr float cuesTop = 146.0f, cuesHeight = 24.0f;
inline constexpr int height = 182;
} // namespace shutterbeat::window::band
