#pragma once

#include "film/Cadence.h"
#include "film/Shot.h"
#include "film/Unknown.h"
#include "time/Footage.h"
#include "time/Rate.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::film
{
/// One media file: a reel of a print.
struct ReelFile
{
    std::string path;          ///< as the book keeps it; relative to the book where it can be
    std::string identity;      ///< tells the file again after it has moved; empty when not known
    time::Rational rate{ 25 }; ///< file frames a second: only a playing rate, never the running speed
    std::string startLabel;    ///< the file's own start timecode, empty when it has none
    int width = 0, height = 0; ///< as displayed: pixel shape and rotation applied
    Cadence cadence;           ///< which film frame each file frame shows
    std::string cadenceSaid;   ///< how the cadence was found, in words: "measured, sure", "one to one"
    std::string workingCopy;   ///< a small file with the same file frames, kept as `path` is; empty when there is none
    std::string workingIdentity;
    Unknown unknown;

    friend bool operator== (const ReelFile&, const ReelFile&) = default;
};

/// A shot of a print as a scan found it, in source film frames, end exclusive. An edition's shots are these, corrected.
struct ScannedShot
{
    std::int64_t first = 0;
    std::int64_t end = 0;
    ShotKind kind = ShotKind::shot;
    double strength = 0; ///< how sure the scan was of the change at its head, 0 to 1

    friend bool operator== (const ScannedShot&, const ScannedShot&) = default;
};

/// One scanned element: its gauge and its reels in order. Its film frames are counted from 0 over all reels.
struct Print
{
    std::string id;
    std::string name;
    time::Gauge gauge;
    std::vector<ReelFile> reels;
    std::vector<ScannedShot> scanned; ///< of its last scan, without gaps; empty in books from before they were kept
    Unknown unknown;

    friend bool operator== (const Print&, const Print&) = default;
};

/// Where a source film frame of a print lies.
struct ReelFrame
{
    std::size_t reel = 0;
    std::int64_t filmFrame = 0; ///< in that reel
    std::int64_t fileFrame = 0; ///< the first file frame of that reel's file that shows it
};

/// Film frames in all reels.
std::int64_t filmFramesOf (const Print& print);

/// Error: the print has no such film frame.
Result<ReelFrame> reelFrameOf (const Print& print, std::int64_t filmFrame);

/// The source film frame that a file frame of a reel shows. Error: no such reel or file frame.
Result<std::int64_t> filmFrameOf (const Print& print, std::size_t reel, std::int64_t fileFrame);

/// The running speed a file was padded for: its rate times film frames over file frames of its cadence, when the
/// cadence is measured and repeats; else nothing is known (DESIGN: a file's rate is never the running speed).
std::optional<time::Rational> measuredSpeed (const ReelFile& reel);
} // namespace shutterbeat::film
