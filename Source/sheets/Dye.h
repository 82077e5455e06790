#pragma once

namespace shutterbeat::sheets
{
/// Inks of a sheet: black first, one dye for emphasis, two greys for what is read second.
struct Dye
{
    double red = 0, green = 0, blue = 0;
};

inline constexpr Dye black{ 0.0, 0.0, 0.0 };
inline constexpr Dye quiet{ 0.33, 0.31, 0.29 };    ///< words read second; 7:1 on white
inline constexpr Dye hairline{ 0.72, 0.70, 0.67 }; ///< rules and empty frames, never words
inline constexpr Dye night{ 0.173, 0.392, 0.549 }; ///< #2C648C: music
inline constexpr Dye rose{ 0.431, 0.102, 0.078 };  ///< #6E1A14: lost
} // namespace shutterbeat::sheets
