#pragma once

#include "desk/OpenBook.h"
#include "mix/Mixer.h"
#include "music/Beats.h"
#include "spotting/Times.h"

#include <functional>
#include <optional>
#include <set>
#include <span>

namespace shutterbeat::desk
{
/// What of a book's sound is wanted.
struct FilmSoundWish
{
    std::optional<std::size_t> reel;               ///< this reel alone, from its picture start; none: all, one after another
    std::optional<std::set<std::string>> soundIds; ///< none: all of the book
    std::vector<mix::Click> clicks;                ///< seconds from picture start of the reel, or of the first one
    std::optional<music::ClickLook> cueClicks;     ///< the click of every cue that has a tempo map, besides
    time::Rational clickLevel{ mix::usualClickLevel };
    bool pops = false;     ///< a tone of one delivered frame two seconds before picture start and after picture end of each reel
    time::Rational offset; ///< seconds by which all of it is moved; above zero is later
};

/// A sound of the book with where it lies on the grid, or why it can't be heard.
struct LaidSound
{
    spotting::Sound sound;
    std::string path;     ///< where it was looked for
    time::Rational start; ///< exact seconds from the grid's origin; only when `lost` is empty
    std::string lost;
};

/// The delivered film's sound, made from a book: sounds in place, clicks and pops, on one grid whose origin (sample 0) is picture
/// start. Samples below 0 lie before it: leader, overture. Opens each file once and reads it as it goes.
/// Each copy shares the open files; one thread at a time uses them all.
class FilmSound
{
public:
    /// Error: no timings. A sound that is missing or can't be read is left out and named in notes().
    static Result<FilmSound> of (const OpenBook& open, const spotting::BookTimes& times, const FilmSoundWish& wish = {});

    [[nodiscard]] const mix::Plan& plan() const { return thePlan; }
    [[nodiscard]] const std::vector<LaidSound>& sounds() const { return laid; }
    [[nodiscard]] const std::vector<std::string>& notes() const { return theNotes; }
    /// Where a reel begins on the grid, in seconds: 0 for the first, or for the one that was asked for.
    [[nodiscard]] time::Rational reelStart (std::size_t reel) const;

    /// Renders samples first to first + stereo.size() / 2 - 1 of a grid, left and right interleaved; false when a sound could not
    /// be read, which is silent then.
    using Render = std::function<bool (std::int64_t first, std::span<float> stereo)>;
    /// `samplesPerSecond` of delivered film; `soundRate` is the rate at which they are played (see mix::Mixer).
    [[nodiscard]] Render renderAt (const time::Rational& samplesPerSecond, int soundRate) const;
    /// The grid of a file: 48000 unless another is wanted.
    [[nodiscard]] Render render (int samplesPerSecond = 48000) const;

private:
    mix::Plan thePlan;
    std::vector<LaidSound> laid;
    std::vector<std::string> theNotes;
    std::vector<time::Rational> reelStarts;
};

/// A sound file as a mix reads it. Error: as media::SoundReader::open.
Result<std::shared_ptr<mix::SampleSource>> openSource (const std::string& path);
} // namespace shutterbeat::desk
