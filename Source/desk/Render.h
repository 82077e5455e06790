#pragma once

#include "desk/OpenBook.h"
#include "media/Canvas.h"
#include "music/Beats.h"
#include "overlay/Overlay.h"
#include "spotting/Times.h"

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace shutterbeat::desk
{
/// Gives a movie its sound: fills the span with left and right in turn at 48 kHz, full scale at 1. `firstSample` counts
/// from picture start of the reel, below zero in the leader. Called in order, without gaps. False: stop, with an error.
using SoundSource = std::function<bool (std::int64_t firstSample, std::span<float> interleavedStereo)>;

/// Which marks for the conductor a movie is to have.
struct MarkWish
{
    int streamer = 0;                                ///< seconds before the hit: 0 (none), 2, 3, 4 or 5
    bool punches = false;                            ///< a disc on the hit
    int flutter = 0;                                 ///< punches in place of one: 0 (none), 3, 5 or 7
    bool flashes = false;                            ///< the whole picture; kept to the flash rule
    bool cautionRead = false;                        ///< overlay::flashCaution was read: without it none of the last three
    spotting::Weight least = spotting::Weight::must; ///< hits of this weight and above have them
    std::vector<std::string> hits;                   ///< or just these, by id
    overlay::Dye dye = overlay::lamplight;           ///< of the streamers
};

/// How a reference movie is made.
struct RenderWish
{
    spotting::Asked asked;
    std::size_t reel = 0;                    ///< of the edition
    std::optional<std::pair<int, int>> size; ///< pixels; none: see renderReel
    media::MovieCodec codec = media::MovieCodec::h264;
    int crf = 18;                                            ///< H.264: lower is better and larger
    std::string preset = "medium";                           ///< H.264: x264's preset
    overlay::Parts parts;                                    ///< what of the overlay is burnt in
    bool overlay = true;                                     ///< false: nothing at all is
    std::string receiver;                                    ///< whom this copy is for
    spotting::Weight countdownTo = spotting::Weight::should; ///< hits of this weight and above are counted down to
    MarkWish marks;
    int leaderSeconds = 0; ///< see RenderPlan
    bool pop = false;
    bool sound = true;                     ///< a sound track, silent where nothing gives it sound
    SoundSource mixed;                     ///< what is heard instead of the book's sounds; may be empty
    std::optional<music::ClickLook> click; ///< the click of every cue with a tempo map, with the book's sounds
    bool workingCopies = false;            ///< take the pictures from the working copies where there are some
};

/// A movie that was made.
struct Rendered
{
    std::string path;
    std::int64_t frames = 0, leaderFrames = 0, pictureFrames = 0;
    std::optional<std::int64_t> popBefore, popAfter; ///< movie frames, from 0
    time::Rate rate;
    std::string startLabel, pictureStart; ///< empty at a rate without timecode
    int width = 0, height = 0;
    bool besidePicture = true; ///< the overlay leaves the picture free
    std::int64_t samples = 0;
    std::vector<std::string> notes;
};

/// Renders one reel of an edition as it is delivered: delivered frame j shows what DESIGN 2 says, with the overlay beside or
/// over it. Without a size: 16 to 9 with an overlay, the film's own shape without, 720 to 1080 lines high as the film is.
/// Whole or not at all. Error: as spotting::timesOf, RenderPlan::of, overlay::planMarks and media::MovieWriter::open; a
/// film that can't be read; cannotWrite; cancelled.
Result<Rendered> renderReel (const OpenBook& open, const std::string& path, const RenderWish& wish, const Progress& progress = {});
} // namespace shutterbeat::desk
