#pragma once

#include "play/SoundClock.h"
#include "time/Rational.h"

#include <array>
#include <condition_variable>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <thread>
#include <vector>

namespace shutterbeat::play
{
/// Renders samples first to first + stereo.size() / 2 - 1 of one grid, interleaved. False when something could not be read.
using SoundRender = std::function<bool (std::int64_t first, std::span<float> stereo)>;
/// Makes a render on a grid of so many samples for a second of film, played at `soundRate`. Called on the feeder's thread.
using SoundSupply = std::function<SoundRender (const time::Rational& samplesPerSecond, int soundRate)>;

/// What is heard when a film runs at `factor` times the speed it is delivered at.
enum class SoundAtSpeed
{
    asItIs,    ///< 1
    varispeed, ///< 1/2 to 2: pitch follows the film, as from a tape
    mute       ///< slower, faster, backward, standing
};
SoundAtSpeed soundAtSpeed (const time::Rational& factor);

/// Brings sound to a device in its place against the picture. A thread renders ahead into a ring of blocks, each of which
/// knows the device's samples it is for; the device's callback takes what fits its samples and plays silence for the rest. So
/// sound that comes too late is left out, never played late, and what follows is in place again.
class SoundFeeder
{
public:
    /// The clock has to outlive the feeder.
    explicit SoundFeeder (const SoundClock& clock);
    ~SoundFeeder();
    SoundFeeder (const SoundFeeder&) = delete;
    SoundFeeder& operator= (const SoundFeeder&) = delete;

    // --- Any one thread, never the device's.

    /// What is to be heard from now on; while playing it changes over in a fiftieth of a second, without a gap. Empty: nothing.
    void supply (SoundSupply sounds);
    /// Film second `seconds` is on screen when the clock says `clockNanoseconds`, and the film runs at `factor` times the speed
    /// it is delivered at. To be called at each start, jump, change of speed and turn of a loop.
    void play (const time::Rational& seconds, const time::Rational& factor, std::int64_t clockNanoseconds);
    void stop();

    // --- The device's thread; waits for nothing and takes no memory.

    /// Fills `frames` samples of the device from number `first` on, which SoundClock::took() gave. One channel gets both sides;
    /// channels from the third on are silence. Sums beyond full scale are held at it, and counted.
    void fill (float* const* out, int channels, int frames, std::int64_t first) noexcept;

    // --- Any thread.

    struct Counts
    {
        std::int64_t played = 0;  ///< samples of sound played
        std::int64_t missed = 0;  ///< samples that were silent because they came too late
        std::int64_t gaps = 0;    ///< how many times that happened
        std::int64_t clipped = 0; ///< samples held at full scale
    };
    [[nodiscard]] Counts counts() const;
    /// What could not be read, or why it is silent; empty when all is well.
    [[nodiscard]] std::string message() const;
    /// Time from play() to the first sound: what is shown earlier than that is silent.
    [[nodiscard]] std::int64_t leadNanoseconds() const;

private:
    static constexpr std::size_t blockFrames = 256, blockCount = 512;
    struct Block
    {
        std::uint64_t generation = 0;
        std::int64_t first = 0; ///< sample of the device
        std::array<float, 2 * blockFrames> samples{};
    };
    struct Order
    {
        std::uint64_t number = 0;
        SoundSupply supply;
        bool playing = false;
        time::Rational seconds, factor{ 1 };
        std::int64_t clock = 0;
    };

    void run();
    void begin (const Order& newer, bool onDevice);
    void fillAhead();

    const SoundClock& clock;

    // --- protected by mutex
    mutable std::mutex mutex;
    std::condition_variable wake;
    Order wanted;
    bool ending = false;
    std::string trouble;

    // --- the feeder's thread only
    Order order;
    std::uint64_t orderEpoch = 0;
    bool orderOnDevice = false;
    SoundRender render;
    std::int64_t gridFirst = 0;   ///< sample of the grid ...
    std::int64_t deviceFirst = 0; ///< ... that goes to this sample of the device
    std::int64_t next = 0;        ///< next sample of the device to be rendered

    // --- the ring: the feeder's thread writes at head, the device's thread reads at tail
    std::vector<Block> ring;
    std::atomic<std::size_t> head{ 0 }, tail{ 0 };
    std::atomic<std::uint64_t> generation{ 0 }; ///< even: silent; odd: the generation that sounds
    std::atomic<std::int64_t> expected{ 0 };    ///< first sample of the device at which this generation has to be heard
    std::atomic<bool> carried{ false };         ///< until then the generation before it goes on: only the sounds have changed
    std::atomic<bool> stopped{ true };

    // --- the device's thread only
    float held[2] = { 0, 0 }; ///< last samples played, let fade where sound breaks off
    bool inGap = false;

    std::atomic<std::int64_t> played{ 0 }, missed{ 0 }, gaps{ 0 }, clipped{ 0 };

    // --- last: starts when all else is there
    std::thread thread;
};
} // namespace shutterbeat::play
