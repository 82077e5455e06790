#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>

namespace shutterbeat::mix
{
/// How loud a programme is (EBU R 128, measured as in ITU-R BS.1770-4).
struct Loudness
{
    std::optional<double> integrated;   ///< LUFS; none when all of it lies below the gate (silence)
    std::optional<double> range;        ///< LRA in LU; none for less than a minute, where it says nothing (handbook 6.3)
    std::optional<double> loudestShort; ///< the loudest three seconds, LUFS
    std::optional<double> truePeak;     ///< dBTP; none for digital silence
};

/// "-23.1 LUFS, range 5.2 LU, true peak -3.4 dBTP", or "silent".
std::string loudnessText (const Loudness& loudness);

/// Measures stereo piece by piece (libebur128).
class LoudnessMeter
{
public:
    explicit LoudnessMeter (int samplesPerSecond);
    ~LoudnessMeter();
    LoudnessMeter (LoudnessMeter&&) noexcept;
    LoudnessMeter& operator= (LoudnessMeter&&) noexcept;

    /// Left and right interleaved. False when memory ran out.
    bool add (std::span<const float> stereo);
    [[nodiscard]] Loudness result() const;

private:
    struct State;
    std::unique_ptr<State> state;
};
} // namespace shutterbeat::mix
