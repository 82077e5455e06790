#pragma once

#include "time/Rate.h"
#include "time/Result.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::exchange
{
/// A stretch of the picture as a list has it, in frames of the list from its first picture.
struct PictureStretch
{
    enum class Kind
    {
        picture,
        black,
        hole ///< nothing stands there in the list
    };
    Kind kind = Kind::picture;
    std::int64_t start = 0, length = 0;
    std::string source;        ///< reel of a CMX3600 list, media of an OTIO clip
    std::string clip;          ///< name of the clip; may be empty
    time::Rational first;      ///< source frame at `start`, at the list's rate
    time::Rational speed{ 1 }; ///< source frames a frame; 0 is a freeze

    /// The source frame at a frame of the stretch, counted from its start.
    [[nodiscard]] time::Rational at (std::int64_t frame) const { return first + speed * time::Rational (frame); }
};

/// What a list of either kind says of the picture: its stretches, end to end.
struct PictureList
{
    std::string title;
    time::Rate rate;
    std::vector<PictureStretch> stretches;
    std::vector<std::string> notes; ///< for the user

    [[nodiscard]] std::int64_t frames() const { return stretches.empty() ? 0 : stretches.back().start + stretches.back().length; }
    /// A list of a finished film: one source, and every source frame is the record frame.
    [[nodiscard]] bool ofOneFilm() const;
};

/// Reads a CMX3600 list or an OTIO timeline (told by its content), for the picture alone. A CMX3600 list does not say its rate:
/// `rate` does. Where an OTIO timeline has several video tracks the upper one is seen. Error: as readCmxList and readOtio; a line
/// of the list that can't be read, because a shot that is left out would count as cut; no picture at all.
Result<PictureList> readPictureList (std::string_view bytes, const time::Rate& rate);
} // namespace shutterbeat::exchange
