#pragma once

#include "play/SoundClock.h"

#include <atomic>
#include <functional>
#include <memory>
#include <string>
#include <thread>
#include <vector>

namespace shutterbeat::tests
{
/// A PulseAudio daemon of the test's own with a null sink: it takes sound at the right pace, and its monitor can be recorded.
/// Lives in a folder of its own and is ended with the value.
class PulseServer
{
public:
    PulseServer();
    ~PulseServer();
    PulseServer (const PulseServer&) = delete;
    PulseServer& operator= (const PulseServer&) = delete;

    /// Empty when it runs; else why it does not.
    [[nodiscard]] const std::string& missing() const { return why; }

private:
    std::string folder, why;
    int process = -1;
};

/// A sound card through ALSA: calls back for each block on a thread of its own.
class AlsaOutput
{
public:
    using Callback = std::function<void (float* const* out, int frames)>;

    AlsaOutput (const std::string& device, int samplesPerSecond, int blockFrames, int bufferFrames);
    ~AlsaOutput();
    AlsaOutput (const AlsaOutput&) = delete;
    AlsaOutput& operator= (const AlsaOutput&) = delete;

    [[nodiscard]] const std::string& failed() const { return why; }
    [[nodiscard]] int bufferFrames() const { return buffer; }
    void start (Callback callback);
    void stop();
    /// Mean samples between a block's being handed over and its being heard, as the device says.
    [[nodiscard]] double meanDelay() const { return delays > 0 ? delaySum / delays : 0; }
    [[nodiscard]] int stumbles() const { return underruns; }

private:
    void run();

    void* pcm = nullptr;
    std::string why;
    int rate, block, buffer;
    Callback callback;
    std::atomic<bool> ending{ false };
    double delaySum = 0;
    int delays = 0, underruns = 0;
    std::thread thread;
};

/// Records a device and knows when each sample was heard.
class AlsaRecorder
{
public:
    AlsaRecorder (const std::string& device, int samplesPerSecond);
    ~AlsaRecorder();
    AlsaRecorder (const AlsaRecorder&) = delete;
    AlsaRecorder& operator= (const AlsaRecorder&) = delete;

    [[nodiscard]] const std::string& failed() const { return why; }
    void stop();
    /// Left channel. After stop().
    [[nodiscard]] const std::vector<float>& samples() const { return left; }
    [[nodiscard]] const std::vector<float>& rightSamples() const { return right; }
    /// Steady nanoseconds at which a sample was heard: the median over what each reading says, so that one late reading does
    /// not count. After stop().
    [[nodiscard]] double heardAt (double sample) const;

private:
    void run();

    void* pcm = nullptr;
    std::string why;
    int rate;
    std::vector<float> left, right;
    struct Reading
    {
        std::int64_t sample = 0, nanoseconds = 0;
    };
    std::vector<Reading> readings;
    std::atomic<bool> ending{ false };
    std::thread thread;
};
} // namespace shutterbeat::tests
