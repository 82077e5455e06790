#pragma once

#include "Drawn.h"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::tests
{
/// How badly a print is worn. The usual values are those the scan must bear.
struct Wear
{
    double flicker = 0.2; ///< brightness of each picture, plus or minus
    double weave = 6;     ///< farthest the picture wanders, pixels of a picture 640 wide
    int scratches = 3;    ///< upright, wandering
    int spots = 12;       ///< dark or light, new in each picture
    double grain = 9;     ///< deviation, grey levels
    std::uint64_t seed = 1;
};

/// Wears grey pictures of one film, one after another; the same each time.
class WornPrint
{
public:
    WornPrint (int width, int height, const Wear& wear);

    /// `grey` holds width * height bytes, row after row.
    void wear (std::vector<std::uint8_t>& grey);

private:
    void shift (const std::vector<std::uint8_t>& from, double dx, double dy, double gain);
    void spot();

    int w;
    int h;
    Wear how;
    Dice dice;
    std::array<double, 2> drift{};
    std::array<double, 2> drifting{};
    std::vector<double> scratches;
    std::vector<double> grainTable;
    std::vector<double> now;
};

/// Decodes the film `from` with ffmpeg, wears it, writes it as `to` with x264 at that crf. `frames` limits how many; 0: all.
/// Nothing when all went well, else what went wrong.
std::optional<std::string> wearFilm (const std::string& from, const std::string& to, const Wear& wear, int crf = 34,
                                     std::int64_t frames = 0);

/// The same, with grey pictures handed in: `width` x `height` bytes each, `rate` like "25/1".
std::optional<std::string> encodeGrey (const std::string& to, int width, int height, const std::string& rate, int crf,
                                       const std::vector<std::vector<std::uint8_t>>& pictures);
} // namespace shutterbeat::tests
