#pragma once

#include "play/SoundFeeder.h"
#include "window/Bench.h"
#include "window/CodeDesk.h"

#include <juce_audio_devices/juce_audio_devices.h>

#include <atomic>
#include <memory>

namespace shutterbeat::window
{
/// The sound card: its sample count is the transport's clock, and the book's sounds go to it in their place against the
/// picture. Where there is none the clock runs on by itself and the bench says so.
class SoundDesk final : private juce::AudioIODeviceCallback, private juce::ChangeListener
{
public:
    /// `steady` and `bench` have to outlive it. Takes the transport's clock for as long as it lives.
    SoundDesk (const play::Clock& steady, Bench& bench);
    ~SoundDesk() override;
    SoundDesk (const SoundDesk&) = delete;
    SoundDesk& operator= (const SoundDesk&) = delete;

    /// Opens the device that the bench wants. The window's thread; may take a moment.
    void open();
    /// Every tick of the window: places the sounds anew where the film has begun to run otherwise, and looks for faults.
    void follow();
    [[nodiscard]] const play::SoundClock& clock() const { return theClock; }
    [[nodiscard]] play::SoundFeeder::Counts counts() const { return feeder.counts(); }

private:
    void audioDeviceIOCallbackWithContext (const float* const* in, int inChannels, float* const* out, int outChannels, int samples,
                                           const juce::AudioIODeviceCallbackContext& context) override;
    void audioDeviceAboutToStart (juce::AudioIODevice* device) override;
    void audioDeviceStopped() override;
    void changeListenerCallback (juce::ChangeBroadcaster*) override;
    void wishChanged();
    void takeSounds();

    Bench& bench;
    const play::Clock& steady;
    play::SoundClock theClock;
    play::SoundFeeder feeder;
    CodeDesk code;
    juce::AudioDeviceManager manager;
    std::atomic<float> gain{ 1 };
    std::vector<float> mono; ///< the device's thread only, once it runs
    std::string trouble;     ///< why no device could be opened
    SoundWish seen;
    std::uint64_t runsSeen = 0;
    bool opened = false;
    spotting::Book soundsOf; ///< the book whose sounds are fed
    bool fed = false, feeding = false, clicked = false;
};
} // namespace shutterbeat::window
