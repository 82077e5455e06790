#pragma once

#include "media/Canvas.h"
#include "time/Rational.h"
#include "time/Result.h"

#include <cstdint>
#include <memory>
#include <span>
#include <string>

namespace shutterbeat::media
{
/// What a movie is to be.
struct MovieSpec
{
    int width = 1280; ///< even, 16 to 8192
    int height = 720;
    time::Rational rate{ 25 }; ///< pictures a second, exactly; above 0, at most 240
    MovieCodec codec = MovieCodec::h264;
    time::Rational pixelShape{ 1 }; ///< width of a pixel to its height
    std::string startLabel;         ///< timecode of the first picture, a semicolon for drop-frame; empty: no timecode track
    bool sound = true;              ///< two channels at soundRate: AAC beside H.264, 24-bit PCM beside ProRes
    int soundRate = 48000;
    int crf = 18;                  ///< H.264 only: x264's constant rate factor, 0 (nothing lost) to 51; lower is larger
    std::string preset = "medium"; ///< H.264 only: x264's preset
    int keyEvery = 0;              ///< H.264 only: pictures from key to key; 0: about a second
    int between = 2;               ///< H.264 only: bidirectional pictures in a row, 0 to 16
    std::string title;             ///< in the file's tags; empty: none
};

/// Writes a movie, MP4 or MOV by its ending, through libav. Every picture lasts 1/rate, the first at zero. The same calls
/// give the same pictures on every machine. Written under a temporary name in the same folder and renamed by finish():
/// without that nothing is left behind.
class MovieWriter
{
public:
    static constexpr int channels = 2;

    /// Error usage, where = path: an ending other than .mp4, .m4v and .mov, ProRes in another than .mov, a size, rate or
    /// label that can't be. Error cannotWrite: the folder, or an encoder that libav has not got here.
    static Result<std::unique_ptr<MovieWriter>> open (const std::string& path, const MovieSpec& spec);
    ~MovieWriter();

    /// The next picture; of the spec's size and codec. Error cannotWrite: disk full and the like.
    Result<Done> add (const Canvas& canvas);
    /// The next samples, left and right in turn, full scale at 1 (what is louder is cut off). In step with the pictures, so
    /// that little waits in memory.
    Result<Done> addSound (std::span<const float> interleaved);
    /// Ends the movie and puts it in its place. Error cannotWrite: then nothing is there.
    Result<Done> finish();

    [[nodiscard]] std::int64_t pictures() const;
    [[nodiscard]] std::int64_t samples() const; ///< a channel

private:
    struct State;
    explicit MovieWriter (std::unique_ptr<State> opened);
    std::unique_ptr<State> state;
};
} // namespace shutterbeat::media
