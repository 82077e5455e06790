#include "play/SoundClock.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::play
{
namespace
{
constexpr double drawn = 0.3;                 ///< seconds over which the count draws the clock
constexpr double beside = 0.1;                ///< most that drawing changes its pace
constexpr std::int64_t patience = second / 2; ///< without a callback, before a device counts as standing still
constexpr double farOff = 0.02;               ///< part by which a device's rate may be wrong and still be a clock
} // namespace

SoundClock::SoundClock (const Clock& machine)
    : steady (machine)
{
    const auto now = steady.nanoseconds();
    last = now;
    silentSteady = now;
    silentClock = now;
}

void SoundClock::anchorSilent (std::int64_t steadyNow, std::int64_t clockNow) const
{
    silentSteady.store (steadyNow, std::memory_order_relaxed);
    silentClock.store (clockNow, std::memory_order_relaxed);
}

void SoundClock::deviceStarted (int samplesPerSecond, int blockSamples, int bufferSamples, int latencySamples)
{
    const auto clockNow = nanoseconds();
    const std::lock_guard lock (mutex);
    anchorSilent (steady.nanoseconds(), std::max (clockNow, last));
    deviceRate = samplesPerSecond;
    block = blockSamples;
    buffer = bufferSamples;
    latency = latencySamples;
    handedOver = 0;
    deviceFault = Fault::none;
    running = false; // the device's thread does not run yet
    usedEpoch = lines.load();
    fault = samplesPerSecond > 0 ? Fault::starting : Fault::noDevice;
    askAnew.store (true, std::memory_order_release);
}

void SoundClock::deviceStopped()
{
    const auto clockNow = nanoseconds();
    const std::lock_guard lock (mutex);
    anchorSilent (steady.nanoseconds(), std::max (clockNow, last));
    deviceRate = 0;
    running = false;
    fault = Fault::noDevice;
}

SoundClock::Line SoundClock::read() const
{
    for (;;)
    {
        const auto before = sequence.load (std::memory_order_acquire);
        const Line line{ lines.load (std::memory_order_acquire), lineSteady.load (std::memory_order_relaxed),
                         lineHeard.load (std::memory_order_relaxed), lineZero.load (std::memory_order_relaxed) };
        std::atomic_thread_fence (std::memory_order_acquire);
        if (before % 2 == 0 && sequence.load (std::memory_order_relaxed) == before)
            return line;
    }
}

void SoundClock::publish (const Line& line) noexcept
{
    sequence.fetch_add (1, std::memory_order_relaxed);
    std::atomic_thread_fence (std::memory_order_release);
    lineSteady.store (line.steady, std::memory_order_relaxed);
    lineHeard.store (line.heard, std::memory_order_relaxed);
    lineZero.store (line.zero, std::memory_order_relaxed);
    lines.store (line.epoch, std::memory_order_release);
    sequence.fetch_add (1, std::memory_order_release);
}

/// From here on the device carries the clock: it goes on from where the silent one stands.
void SoundClock::beginLine (std::int64_t now) noexcept
{
    const auto count = handedOver.load (std::memory_order_relaxed);
    const double perNanosecond = deviceRate.load (std::memory_order_relaxed) / double (second);
    running = true;
    firstSteady = lastSteady = now;
    firstTaken = count;
    // At its very start nothing lies in the device's buffer yet; the count catches up with what is heard as it fills.
    heard = std::max (0.0, static_cast<double> (count - latency.load (std::memory_order_relaxed)));
    const auto clockNow = silentClock.load (std::memory_order_relaxed) + (now - silentSteady.load (std::memory_order_relaxed));
    publish ({ lines.load (std::memory_order_relaxed) + 1, now, heard,
               clockNow - static_cast<std::int64_t> (std::llround (heard / perNanosecond)) });
}

std::int64_t SoundClock::took (int samples) noexcept
{
    const auto now = steady.nanoseconds();
    const auto count = handedOver.load (std::memory_order_relaxed);
    const int perSecond = deviceRate.load (std::memory_order_relaxed);
    if (perSecond <= 0)
        return count;
    if (askAnew.exchange (false, std::memory_order_acq_rel) || ! running)
        beginLine (now);
    else
    {
        const double elapsed = double (now - lastSteady) / double (second);
        const double expected = heard + elapsed * perSecond;
        const double error = static_cast<double> (count - latency.load (std::memory_order_relaxed)) - expected;
        const double most = beside * elapsed * perSecond;
        heard = expected + std::clamp (error * (1 - std::exp (-elapsed / drawn)), -most, most);
        lastSteady = now;
        // A card is within a few thousandths of its rate; what its buffer takes at once and a late callback are allowed for.
        const double whole = double (now - firstSteady) / double (second) * perSecond;
        const double beyond = static_cast<double> (count - firstTaken) - whole;
        const double allowed =
            farOff * whole + buffer.load (std::memory_order_relaxed) + 4.0 * block.load (std::memory_order_relaxed);
        if (beyond > allowed + 0.25 * perSecond)
            deviceFault.store (Fault::runsAway, std::memory_order_release);
        else if (-beyond > allowed + 0.5 * perSecond)
            deviceFault.store (Fault::fallsBehind, std::memory_order_release);
        else if (now - firstSteady > 20 * second)
        {
            firstSteady = now;
            firstTaken = count;
        }
        publish ({ lines.load (std::memory_order_relaxed), now, heard, lineZero.load (std::memory_order_relaxed) });
    }
    handedOver.store (count + samples, std::memory_order_release);
    return count;
}

std::int64_t SoundClock::nanoseconds() const
{
    const std::lock_guard lock (mutex);
    const int perSecond = deviceRate.load (std::memory_order_relaxed);
    const Line line = read();
    // After the line was read: a callback in between would else lie in the future.
    const auto now = steady.nanoseconds();
    const auto silent = silentClock.load (std::memory_order_relaxed) + (now - silentSteady.load (std::memory_order_relaxed));
    const auto onLine = [&]
    {
        const double samples = line.heard + double (std::max<std::int64_t> (0, now - line.steady)) / double (second) * perSecond;
        return line.zero + static_cast<std::int64_t> (std::llround (samples / perSecond * double (second)));
    };
    if (perSecond > 0 && line.epoch != usedEpoch)
    {
        usedEpoch = line.epoch;
        fault = Fault::none;
    }
    if (fault == Fault::none && perSecond > 0)
    {
        auto found = deviceFault.load (std::memory_order_acquire);
        const auto wait = patience + std::int64_t (block.load (std::memory_order_relaxed)) * 4 * second / perSecond;
        if (found == Fault::none && now - line.steady > wait)
            found = Fault::standsStill;
        last = std::max (last, onLine());
        if (found != Fault::none)
        {
            fault = found;
            anchorSilent (now, last);
            // One that stands still may play on; its next callback takes the clock up again.
            if (found == Fault::standsStill)
                askAnew.store (true, std::memory_order_release);
        }
        return last;
    }
    return last = std::max (last, silent);
}

std::int64_t SoundClock::sampleAt (std::int64_t clockNanoseconds) const
{
    const Line line = read();
    const long double samples =
        static_cast<long double> (clockNanoseconds - line.zero) * deviceRate.load (std::memory_order_relaxed) / second;
    return static_cast<std::int64_t> (std::llround (samples));
}

std::int64_t SoundClock::latencyNanoseconds() const
{
    const int perSecond = rate();
    return perSecond > 0 ? std::int64_t (latency.load (std::memory_order_relaxed)) * second / perSecond : 0;
}

bool SoundClock::onDevice() const
{
    const std::lock_guard lock (mutex);
    return fault == Fault::none;
}

std::string SoundClock::name() const
{
    return onDevice() ? "sound card" : "silent clock";
}

std::string SoundClock::message() const
{
    const std::lock_guard lock (mutex);
    switch (fault)
    {
    case Fault::none:
        return "";
    case Fault::noDevice:
        return "no sound device is open; the film runs by a silent clock";
    case Fault::starting:
        return "the sound device has not begun to play; the film runs by a silent clock until it does";
    case Fault::runsAway:
        return "the sound device plays faster than time and is no clock; the film runs silent, choose another device";
    case Fault::fallsBehind:
        return "the sound device plays slower than time and is no clock; the film runs silent, choose another device";
    case Fault::standsStill:
        return "the sound device stands still; the film runs by a silent clock until it plays on";
    }
    return "";
}
} // namespace shutterbeat::play
