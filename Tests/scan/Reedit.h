#pragma once

#include "Drawn.h"

#include "film/Print.h"
#include "scan/Fingerprint.h"
#include "scan/Match.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::tests
{
/// How the second print of a film differs from the first, besides its order.
struct OtherPrint
{
    double crop = 0;  ///< share of the width and height that is cut off, unevenly
    double gamma = 1; ///< grading
    double weave = 0; ///< pixels of a picture 640 wide
    double grain = 0; ///< deviation, grey levels
    double flicker = 0;
    int dirt = 0; ///< spots a picture; a quarter as many scratches
    int crf = 20; ///< of x264
    bool mirrored = false;
    int speed = 0; ///< film frames a second, padded to 25; 0: one to one
};

/// A film of real clips, and the same re-edited: both as a scan sees them after encoding and decoding.
struct Reedited
{
    struct Film
    {
        std::vector<std::int64_t> pool; ///< which picture of all clips each film frame is
        std::vector<scan::Fingerprint> frames;
        std::vector<film::ScannedShot> shots;
        std::vector<bool> repeat;    ///< shows the picture of the film frame before again, as far as a scan can tell
        std::vector<float> contrast; ///< standard deviation, grey levels
    };
    Film before, after;
};

/// Real clips, their pictures one after another, and the film that is made of them before it is re-edited.
struct Clips
{
    std::vector<std::vector<std::uint8_t>> pictures;
    std::vector<std::vector<std::int64_t>> heads; ///< a clip's first pictures of shots, and its end
    std::size_t own = 0;                          ///< so many clips are the film; what follows is foreign to it
    Reedited::Film film;
};

/// The clips of the test data that `names` are, and those of `foreign`. Nothing when the data or ffmpeg is absent; `why` says
/// which.
std::optional<Clips> readClips (const std::vector<std::string>& names, const std::vector<std::string>& foreign, std::string& why);
/// Re-edited by chance: shots reordered, trimmed, dropped, repeated, and foreign ones put in between. May be called by several
/// threads at once. Nothing when ffmpeg fails.
std::optional<Reedited> reedit (const Clips& clips, const OtherPrint& other, std::uint64_t seed);
/// How well a re-edited film was found. Shares of the kept frames with something to see; pictures that are one as far as their
/// fingerprints go count as one.
struct MatchScore
{
    int kept = 0;                              ///< frames of the new film that are in the old
    int dark = 0;                              ///< of all kept ones those with nothing to see, which are not in `kept`
    double rightShot = 0, exact = 0, near = 0; ///< near: within a film frame
    int foreign = 0;                           ///< frames that are not in the old film but were found there, dark ones left out
    int wrongUnsaid = 0;                       ///< frames more than one off in runs that were not said to be doubtful
    int doubts = 0, doubted = 0;               ///< runs that were said to be doubtful, and frames in them
};
MatchScore scoreOf (const Reedited& film, const scan::PrintMatch& match);
} // namespace shutterbeat::tests
