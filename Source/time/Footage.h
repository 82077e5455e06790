#pragma once

#include "time/Result.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::time
{
/// A film gauge as it is counted. Feet are counts, not lengths: 64 perforations of 35 mm are "a foot".
struct Gauge
{
    std::string name = "35 mm";
    int framesPerFoot = 16;

    friend bool operator== (const Gauge&, const Gauge&) = default;
};

/// 35 mm 16, 16 mm 40, 9.5 mm 40 (counting convention), 8 mm 80, Super 8 72 (handbook 2.1).
const std::vector<Gauge>& gauges();

/// Finds a gauge by its name ("35 mm", "35mm", "super 8"). Error: no such gauge; the message lists them.
Result<Gauge> parseGauge (std::string_view text);

/// "62+08": whole feet and the frames over, two digits at least. Below zero the sign stands in front.
std::string feetText (std::int64_t frames, const Gauge& gauge);

/// Frames from "62+08" or "62" feet. More frames than a foot has are taken ("100+150"). Error: not feet and frames.
Result<std::int64_t> parseFeet (std::string_view text, const Gauge& gauge);
} // namespace shutterbeat::time
