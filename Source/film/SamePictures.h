#pragma once

#include "film/Unknown.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::film
{
/// A run of film frames that two prints share: the same photographed pictures, in the same order.
struct SamePictures
{
    std::string print; ///< id
    std::int64_t first = 0;
    std::string other; ///< id of the other print
    std::int64_t otherFirst = 0;
    std::int64_t frames = 0;
    Unknown unknown;

    friend bool operator== (const SamePictures&, const SamePictures&) = default;
};

/// A source film frame of a print.
struct SourceFrame
{
    std::string print;
    std::int64_t frame = 0;

    friend bool operator== (const SourceFrame&, const SourceFrame&) = default;
};

/// The same picture in every other print that is known to hold it, found over several prints where need be; the given one
/// is not among them.
std::vector<SourceFrame> sameElsewhere (const std::vector<SamePictures>& known, const SourceFrame& frame);
} // namespace shutterbeat::film
