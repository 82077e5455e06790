#pragma once

#include "play/Clock.h"

#include <atomic>
#include <mutex>

namespace shutterbeat::play
{
/// The sound card's sample count as a clock, steady between callbacks: it runs on at the card's rate from callback to callback
/// and is drawn towards the count over a third of a second, never faster or slower than a tenth beside real time. Without a
/// device, or with one that runs away (ALSA's null device calls back as fast as it can), falls far behind, or stands still,
/// the machine's steady clock takes over at the very nanosecond, and message() says so. A device that stood still and plays
/// on takes its place back by itself; one that ran away only after deviceStarted().
class SoundClock final : public Clock
{
public:
    /// `steady` has to outlive the clock.
    explicit SoundClock (const Clock& steady);

    // --- Any one thread, never the device's.

    /// A device is about to call back: its samples a second, the samples of one call (the largest, if they vary), those its
    /// buffer takes at once when it starts, and those between a call and its being heard (with what the user measured).
    void deviceStarted (int samplesPerSecond, int blockSamples, int bufferSamples, int latencySamples);
    /// The device is closed, or lost: time runs on.
    void deviceStopped();

    // --- The device's thread; waits for nothing.

    /// To be called once at the beginning of each callback. Gives the number of its first sample, counted from deviceStarted().
    std::int64_t took (int samples) noexcept;

    // --- Any thread.

    [[nodiscard]] std::int64_t nanoseconds() const override;
    /// "sound card", or "silent clock".
    [[nodiscard]] std::string name() const override;
    /// What the user should know: why the sound card is not the clock; empty when it is.
    [[nodiscard]] std::string message() const;
    /// True while the sound card is the clock.
    [[nodiscard]] bool onDevice() const;
    /// Rises whenever samples and clock are related anew; what was placed by sampleAt() has to be placed again.
    [[nodiscard]] std::uint64_t epoch() const { return lines.load (std::memory_order_acquire); }
    [[nodiscard]] int rate() const { return deviceRate.load (std::memory_order_relaxed); }
    /// The device's sample that is heard when this clock says `clockNanoseconds`. Only while rate() is above 0.
    [[nodiscard]] std::int64_t sampleAt (std::int64_t clockNanoseconds) const;
    /// Samples handed to the device so far.
    [[nodiscard]] std::int64_t taken() const { return handedOver.load (std::memory_order_acquire); }
    /// Nanoseconds from a callback to its sound.
    [[nodiscard]] std::int64_t latencyNanoseconds() const;

private:
    enum class Fault
    {
        none,
        noDevice,
        starting,
        runsAway,
        fallsBehind,
        standsStill
    };
    /// Where the device stands, as published by its thread.
    struct Line
    {
        std::uint64_t epoch = 0;
        std::int64_t steady = 0; ///< nanoseconds at the last callback
        double heard = 0;        ///< samples heard by then
        std::int64_t zero = 0;   ///< clock at which sample 0 was heard
    };

    [[nodiscard]] Line read() const;
    void publish (const Line& line) noexcept;
    void anchorSilent (std::int64_t steadyNow, std::int64_t clockNow) const;
    void beginLine (std::int64_t now) noexcept;

    const Clock& steady;

    // --- set by deviceStarted() before the device calls back
    std::atomic<int> deviceRate{ 0 }, block{ 0 }, buffer{ 0 }, latency{ 0 };

    // --- written by the device's thread (while one runs), read by all: a sequence lock
    std::atomic<std::uint64_t> sequence{ 0 };
    std::atomic<std::uint64_t> lines{ 0 };
    std::atomic<std::int64_t> lineSteady{ 0 }, lineZero{ 0 };
    std::atomic<double> lineHeard{ 0 };
    std::atomic<std::int64_t> handedOver{ 0 };
    std::atomic<Fault> deviceFault{ Fault::none };

    // --- the device's thread only
    bool running = false;
    std::int64_t firstSteady = 0, lastSteady = 0, firstTaken = 0;
    double heard = 0;

    // --- readers: protected by mutex, but for the two that the device's thread reads
    mutable std::mutex mutex;
    mutable Fault fault = Fault::noDevice;
    mutable std::uint64_t usedEpoch = 0; ///< line the clock last ran on
    mutable std::int64_t last = 0;       ///< highest value given out
    mutable std::atomic<std::int64_t> silentSteady{ 0 }, silentClock{ 0 };
    mutable std::atomic<bool> askAnew{ false }; ///< the device's thread shall begin a new line
};
} // namespace shutterbeat::play
