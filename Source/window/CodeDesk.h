#pragma once

#include "play/SoundClock.h"
#include "play/TimecodeOut.h"
#include "window/Bench.h"

#include <juce_audio_devices/juce_audio_devices.h>

#include <memory>
#include <mutex>
#include <optional>
#include <string>

namespace shutterbeat::window
{
/// Timecode for the composer's own machine while the film plays: MIDI time code to a MIDI output, linear timecode as sound for
/// the right channel of the sound device. Labels are those of the reel on screen, so much later as the bench's wish says.
class CodeDesk final : private juce::HighResolutionTimer
{
public:
    CodeDesk (const play::SoundClock& clock, Bench& bench);
    ~CodeDesk() override;

    /// Every tick of the window: places the code anew where the film runs otherwise, another reel is on, or the wish is another.
    void follow();
    /// For the device's thread: fills `right`, true, or leaves it alone. Waits for nothing.
    bool fill (float* right, int samples, std::int64_t first) noexcept;
    /// At most so many samples come in one call from now on; before the device starts.
    void prepare (int samples);
    /// MIDI outputs of this machine.
    [[nodiscard]] static std::vector<std::string> outputs();

private:
    void hiResTimerCallback() override;
    void openOutput();
    void place();

    const play::SoundClock& clock;
    Bench& bench;
    play::SoundFeeder feeder;
    std::atomic<bool> sounding{ false };
    std::vector<float> sides[2];

    std::mutex mutex; ///< of what follows: the timer's thread sends
    std::unique_ptr<juce::MidiOutput> output;
    std::optional<play::MidiTimecodeOut> midi;

    SoundWish seen;
    film::Delivery deliverySeen;
    std::uint64_t runsSeen = 0;
    std::optional<std::size_t> reelSeen;
    std::int64_t startSeen = 0;
};
} // namespace shutterbeat::window
