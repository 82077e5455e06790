#include "play/SoundFeeder.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>

namespace shutterbeat::play
{
SoundAtSpeed soundAtSpeed (const time::Rational& factor)
{
    if (factor == time::Rational (1))
        return SoundAtSpeed::asItIs;
    return factor >= time::Rational (1, 2) && factor <= time::Rational (2) ? SoundAtSpeed::varispeed : SoundAtSpeed::mute;
}

SoundFeeder::SoundFeeder (const SoundClock& soundClock)
    : clock (soundClock)
    , ring (blockCount)
    , thread ([this] { run(); })
{
}

SoundFeeder::~SoundFeeder()
{
    {
        const std::lock_guard lock (mutex);
        ending = true;
    }
    wake.notify_all();
    thread.join();
}

void SoundFeeder::supply (SoundSupply sounds)
{
    {
        const std::lock_guard lock (mutex);
        wanted.supply = std::move (sounds);
        ++wanted.number;
        trouble.clear();
    }
    wake.notify_all();
}

void SoundFeeder::play (const time::Rational& seconds, const time::Rational& factor, std::int64_t clockNanoseconds)
{
    {
        const std::lock_guard lock (mutex);
        wanted.playing = true;
        wanted.seconds = seconds;
        wanted.factor = factor;
        wanted.clock = clockNanoseconds;
        ++wanted.number;
    }
    wake.notify_all();
}

void SoundFeeder::stop()
{
    stopped = true;
    {
        const std::lock_guard lock (mutex);
        wanted.playing = false;
        ++wanted.number;
    }
    wake.notify_all();
}

void SoundFeeder::run()
{
    for (;;)
    {
        // The clock finds out when it is read whether the device still is one.
        static_cast<void> (clock.nanoseconds());
        const bool onDevice = clock.onDevice();
        Order newer;
        bool anew = false;
        {
            std::unique_lock lock (mutex);
            const bool idle = ! wanted.playing || ! wanted.supply;
            // A callback wakes nobody, for that could make it wait: this thread looks by itself, often enough for the ring.
            wake.wait_for (lock, std::chrono::milliseconds (idle ? 50 : 5),
                           [this] { return ending || wanted.number != order.number; });
            if (ending)
                return;
            anew = wanted.number != order.number || clock.epoch() != orderEpoch || onDevice != orderOnDevice;
            if (anew)
                newer = wanted;
        }
        if (anew)
            begin (newer, onDevice);
        fillAhead();
    }
}

/// Takes up an order, or places it anew after the device has changed.
void SoundFeeder::begin (const Order& newer, bool onDevice)
{
    const auto epoch = clock.epoch();
    const auto number = generation.load (std::memory_order_relaxed);
    const bool sounded = number % 2 == 1;
    const bool same = sounded && epoch == orderEpoch && newer.playing && newer.seconds == order.seconds
                      && newer.factor == order.factor && newer.clock == order.clock;
    order = newer;
    orderEpoch = epoch;
    orderOnDevice = onDevice;
    render = nullptr;
    const int rate = clock.rate();
    const bool sounds = order.playing && order.supply && onDevice && rate > 0 && soundAtSpeed (order.factor) != SoundAtSpeed::mute;
    if (! sounds)
    {
        generation.store (number + (sounded ? 1 : 2), std::memory_order_release);
        return;
    }
    const auto perSecond = time::Rational (rate) / order.factor;
    render = order.supply (perSecond, rate);
    gridFirst = time::roundOf (order.seconds * perSecond);
    deviceFirst = clock.sampleAt (order.clock);
    // What is heard already can't be changed, nor what the device asks for before the first block is there.
    next = std::max (deviceFirst, clock.taken() + rate / 50);
    carried.store (same, std::memory_order_relaxed);
    expected.store (next, std::memory_order_relaxed);
    stopped.store (false, std::memory_order_relaxed);
    generation.store (number + (sounded ? 2 : 1), std::memory_order_release);
}

void SoundFeeder::fillAhead()
{
    if (! render)
        return;
    const auto ahead = clock.taken() + clock.rate() * 2 / 5;
    const auto number = generation.load (std::memory_order_relaxed);
    // Behind the device: what it has asked for meanwhile is lost.
    next = std::max (next, clock.taken());
    while (next < ahead)
    {
        const auto at = head.load (std::memory_order_relaxed);
        if (at - tail.load (std::memory_order_acquire) >= blockCount)
            return;
        auto& block = ring[at % blockCount];
        block.generation = number;
        block.first = next;
        if (! render (gridFirst + (next - deviceFirst), block.samples))
        {
            const std::lock_guard lock (mutex);
            trouble = "a sound can't be read any more and is silent";
        }
        head.store (at + 1, std::memory_order_release);
        next += blockFrames;
        const std::lock_guard lock (mutex);
        if (wanted.number != order.number)
            return; // something newer is wanted
    }
}

void SoundFeeder::fill (float* const* out, int channels, int frames, std::int64_t first) noexcept
{
    const auto number = generation.load (std::memory_order_acquire);
    const bool sounds = number % 2 == 1 && ! stopped.load (std::memory_order_relaxed);
    const auto due = expected.load (std::memory_order_relaxed);
    const bool carry = carried.load (std::memory_order_relaxed);
    const auto put = [&] (int i, float left, float right)
    {
        if (channels == 1)
            out[0][i] = 0.5f * (left + right);
        for (int c = 0; c < channels && channels > 1; ++c)
            out[c][i] = c == 0 ? left : c == 1 ? right : 0.0f;
    };
    std::int64_t heard = 0, silent = 0, atFull = 0;
    int i = 0;
    while (i < frames)
    {
        const auto at = tail.load (std::memory_order_relaxed);
        const bool any = at != head.load (std::memory_order_acquire);
        const auto* block = any ? &ring[at % blockCount] : nullptr;
        const auto sample = first + i;
        if (block != nullptr && block->generation > number)
            block = nullptr; // begun while this callback runs: for the next one
        const bool current = block != nullptr && (block->generation == number || (carry && sample < due));
        if (block != nullptr && (! current || ! sounds || block->first + std::int64_t (blockFrames) <= sample))
        {
            tail.store (at + 1, std::memory_order_release);
            continue;
        }
        if (block != nullptr && block->first <= sample)
        {
            const auto from = static_cast<std::size_t> (sample - block->first);
            const int count = static_cast<int> (std::min<std::int64_t> (frames - i, std::int64_t (blockFrames - from)));
            for (int k = 0; k < count; ++k)
            {
                const float* pair = block->samples.data() + 2 * (from + static_cast<std::size_t> (k));
                const float left = std::clamp (pair[0], -1.0f, 1.0f), right = std::clamp (pair[1], -1.0f, 1.0f);
                atFull += left != pair[0] || right != pair[1] ? 1 : 0;
                held[0] = left;
                held[1] = right;
                put (i + k, left, right);
            }
            i += count;
            heard += count;
            inGap = false;
            continue;
        }
        // Nothing for this sample: up to the next block, or to the end. What sounded last dies away at once, without a crack.
        const int until = block != nullptr ? static_cast<int> (std::min<std::int64_t> (frames, block->first - first)) : frames;
        for (; i < until; ++i)
        {
            held[0] = std::abs (held[0]) < 1e-5f ? 0.0f : held[0] * 0.97f;
            held[1] = std::abs (held[1]) < 1e-5f ? 0.0f : held[1] * 0.97f;
            put (i, held[0], held[1]);
            if (sounds && first + i >= due)
                ++silent;
        }
        if (silent > 0 && ! inGap)
        {
            inGap = true;
            gaps.fetch_add (1, std::memory_order_relaxed);
        }
    }
    played.fetch_add (heard, std::memory_order_relaxed);
    missed.fetch_add (silent, std::memory_order_relaxed);
    clipped.fetch_add (atFull, std::memory_order_relaxed);
}

SoundFeeder::Counts SoundFeeder::counts() const
{
    return { played.load(), missed.load(), gaps.load(), clipped.load() };
}

std::string SoundFeeder::message() const
{
    const std::lock_guard lock (mutex);
    return trouble;
}

std::int64_t SoundFeeder::leadNanoseconds() const
{
    return clock.latencyNanoseconds() + second / 50;
}
} // namespace shutterbeat::play
