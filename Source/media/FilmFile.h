#pragma once

#include "time/Rate.h"
#include "time/Rational.h"
#include "time/Result.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::media
{
/// What one media file holds, as far as a film needs to know.
struct FilmInfo
{
    std::string path;
    std::string identity;                    ///< the same for the same bytes wherever they lie: size and a hash of a few blocks
    std::int64_t frames = 0;                 ///< presented pictures: file frames 0 to frames - 1
    time::Rational rate{ 25 };               ///< pictures a second; of a file with uneven steps the one most of them follow
    bool variableRate = false;               ///< the pictures don't all last equally long
    std::string startLabel;                  ///< timecode of file frame 0 in its own rate; empty when the file has none
    time::Rate startRate;                    ///< the rate startLabel counts in (not always the picture's);
                                             ///< a semicolon where it has no drop-frame counts as written, see time::parseLabel
    std::int64_t startFrame = 0;             ///< startLabel as file frames after 00:00:00:00; 0 without a label
    std::string reelName;                    ///< as the file's timecode track or tags give it; empty when they don't
    std::optional<std::int64_t> firstNumber; ///< of picture files: the number in the name of file frame 0, so that frame k
                                             ///< is the one they call firstNumber + k
    int width = 0;                           ///< as displayed: pixel shape and rotation applied
    int height = 0;
    int rotation = 0;  ///< degrees clockwise that the stored picture is turned for display: 0, 90, 180, 270
    std::string codec; ///< libav's short name: "h264"
    bool hasSound = false;
    time::Rational containerStart;     ///< seconds at which the container shows file frame 0; information only
    std::vector<std::string> warnings; ///< sentences for the user
};

/// Opens any film file that libav reads, or a folder of numbered picture files (or the first of them, see findSequence),
/// and lists its presented pictures.
/// File frame 0 is the first picture shown, whatever start time or edit list the container has; the count is that of
/// the pictures shown, never the header's.
/// Error unreadable, where = path: no such file, a folder without a film, empty, cut short, not a film, sound only, no picture in
/// it. declaredRate: pictures a second of picture files whose headers give no rate (above 0; else 24 is taken, and said); a film
/// that has a rate keeps its own.
Result<FilmInfo> openFilm (const std::string& path, const time::Rational& declaredRate = {});
} // namespace shutterbeat::media
