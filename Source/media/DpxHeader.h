#pragma once

#include "time/Rational.h"

#include <optional>
#include <string>

namespace shutterbeat::media
{
/// What the header of a DPX file (SMPTE ST 268-1) says about time. Fields hold all ones where nothing was written.
struct DpxHeader
{
    std::optional<time::Rational> rate; ///< pictures a second; those of film and video as their exact fractions
    std::string timecode;               ///< hh:mm:ss:ff of this picture, or empty
};

/// Nothing when the file is no DPX or can't be read.
std::optional<DpxHeader> readDpxHeader (const std::string& path);
} // namespace shutterbeat::media
