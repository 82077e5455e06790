#pragma once

#include "time/Timecode.h"

#include <array>
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace shutterbeat::mix
{
/// The 80 bits of one label (SMPTE ST 12-1; handbook 1.6), byte 0 bit 0 first on the wire. `labels` at most 30 a second.
std::array<std::uint8_t, 10> ltcWord (std::int64_t count, const time::Rate& labels);

/// Linear timecode as sound, for a film whose picture start is at 0 seconds. Sample s depends on its time alone: each label
/// begins exactly at its delivered frame, nothing is accumulated, and any blocks give the same samples.
/// At 48 to 60 it carries the half-rate label, each over two delivered frames.
class LinearTimecode
{
public:
    /// `startCount` is the label count of picture start at the final rate; `offset` moves the code later.
    /// Error: a rate without timecode, with the reason.
    static Result<LinearTimecode> of (const time::Rate& final, std::int64_t startCount,
                                      const time::Rational& offset = time::Rational (0));

    /// The rate the labels count in.
    [[nodiscard]] const time::Rate& labels() const { return labelRate; }
    [[nodiscard]] const std::vector<std::string>& notes() const { return theNotes; }
    /// One channel, peak 0.25 (12 dB below full scale), edges of 40 microseconds. `samplesPerSecond` as of mix::Mixer.
    void render (const time::Rational& samplesPerSecond, std::int64_t first, std::span<float> mono) const;

private:
    time::Rate labelRate;
    time::Rational midnight; ///< seconds from label 00:00:00:00 to picture start
    std::vector<std::string> theNotes;
};

/// A label found in a sound.
struct FoundLabel
{
    std::string text; ///< hh:mm:ss:ff, a semicolon before ff when it is marked drop-frame
    bool dropFrame = false;
    bool backward = false;  ///< the tape ran backwards
    std::int64_t first = 0; ///< sample at which it begins
    std::int64_t end = 0;   ///< one past its last
};

/// Finds linear timecode in one channel, fed piece by piece (libltc). After a second without a label it begins anew.
class LtcFinder
{
public:
    /// `framesPerSecond` is only a first guess.
    explicit LtcFinder (int samplesPerSecond, int framesPerSecond = 25);
    ~LtcFinder();
    LtcFinder (LtcFinder&&) noexcept;
    LtcFinder& operator= (LtcFinder&&) noexcept;

    /// The labels that ended in this piece, up to 30 a second. Where one begins is exact behind another label, and otherwise
    /// within a few bits.
    std::vector<FoundLabel> feed (std::span<const float> mono);

private:
    struct State;
    std::unique_ptr<State> state;
};
} // namespace shutterbeat::mix
