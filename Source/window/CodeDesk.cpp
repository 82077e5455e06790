#include "window/CodeDesk.h"

#include "play/Reels.h"
#include "window/Fonts.h"

#include <algorithm>

namespace shutterbeat::window
{
namespace
{
constexpr std::int64_t millisecond = 1'000'000;
}

CodeDesk::CodeDesk (const play::SoundClock& theClock, Bench& theBench)
    : clock (theClock)
    , bench (theBench)
    , feeder (theClock)
{
}

CodeDesk::~CodeDesk()
{
    stopTimer();
}

std::vector<std::string> CodeDesk::outputs()
{
    std::vector<std::string> names;
    for (const auto& device : juce::MidiOutput::getAvailableDevices())
        names.push_back (device.name.toStdString());
    return names;
}

void CodeDesk::prepare (int samples)
{
    for (auto& side : sides)
        side.assign (static_cast<std::size_t> (std::max (0, samples)), 0.0f);
}

bool CodeDesk::fill (float* right, int samples, std::int64_t first) noexcept
{
    if (! sounding.load (std::memory_order_relaxed) || right == nullptr || static_cast<std::size_t> (samples) > sides[0].size())
        return false;
    float* const both[] = { sides[0].data(), sides[1].data() };
    feeder.fill (both, 2, samples, first);
    std::copy_n (both[1], samples, right);
    return true;
}

/// The output asked for, or the first there is. Says so where there is none.
void CodeDesk::openOutput()
{
    std::unique_ptr<juce::MidiOutput> opened;
    if (seen.midiCode)
    {
        const auto devices = juce::MidiOutput::getAvailableDevices();
        const auto wanted = std::find_if (devices.begin(), devices.end(),
                                          [&] (const juce::MidiDeviceInfo& device)
                                          { return seen.midiOutput.empty() || device.name == text (seen.midiOutput); });
        if (wanted != devices.end())
            opened = juce::MidiOutput::openDevice (wanted->identifier);
        if (opened == nullptr)
            bench.complain (devices.isEmpty()
                                ? "This machine has no MIDI output, so no MIDI time code goes out."
                                : "The MIDI output can't be opened, so no MIDI time code goes out. D chooses another.");
    }
    const std::lock_guard lock (mutex);
    output = std::move (opened);
    if (output != nullptr)
        startTimer (1);
}

void CodeDesk::place()
{
    const auto& timings = bench.times()->timings;
    const auto& rate = timings.delivery().rate;
    const auto reel = bench.transport.position().reel;
    const auto offset = time::Rational (seen.codeOffsetMs, 1000);
    const auto reelStart = time::Rational (play::deliveredBefore (timings, reel)) / rate.perSecond;
    const auto start = bench.transport.lastStart();
    const bool runs = bench.transport.playing() && bench.transport.pace().running == play::Running::delivered;

    std::vector<std::string> notes;
    std::optional<play::MidiTimecodeOut> sent;
    if (seen.midiCode)
    {
        if (const auto midiRate = mix::midiRateOf (rate))
        {
            sent.emplace (*midiRate, timings.startCount (reel), offset);
            runs ? sent->running (start.seconds - reelStart, bench.transport.factor(), start.nanoseconds)
                 : sent->standing (bench.transport.seconds() - reelStart);
            notes = midiRate->notes;
        }
        else
            notes.push_back (midiRate.error().text());
    }
    {
        const std::lock_guard lock (mutex);
        midi = std::move (sent);
    }

    bool sound = false;
    if (seen.linearCode)
    {
        if (const auto code = mix::LinearTimecode::of (rate, timings.startCount (reel), offset))
        {
            sound = true;
            feeder.supply (play::timecodeSupply (*code));
            runs ? feeder.play (start.seconds - reelStart, bench.transport.factor(), start.nanoseconds) : feeder.stop();
            notes.insert (notes.end(), code->notes().begin(), code->notes().end());
        }
        else
            notes.push_back (code.error().text());
    }
    if (! sound)
        feeder.stop();
    sounding = sound;
    std::string said;
    for (const auto& note : notes)
        said += (said.empty() ? "" : " ") + note + (note.empty() || note.back() == '.' ? "" : ".");
    if (said != bench.codeNote && ! said.empty())
        bench.complain (said);
    bench.codeNote = said;
}

void CodeDesk::follow()
{
    if (bench.times() == nullptr)
        return;
    const auto& wish = bench.soundWish();
    const bool another = wish.midiCode != seen.midiCode || wish.midiOutput != seen.midiOutput;
    const auto& timings = bench.times()->timings;
    const auto reel = bench.transport.position().reel;
    const bool same = ! another && wish.linearCode == seen.linearCode && wish.codeOffsetMs == seen.codeOffsetMs
                      && bench.transport.runs() == runsSeen && reelSeen == reel && timings.delivery() == deliverySeen
                      && timings.startCount (reel) == startSeen;
    if (same)
        return;
    seen = wish;
    runsSeen = bench.transport.runs();
    reelSeen = reel;
    deliverySeen = timings.delivery();
    startSeen = timings.startCount (reel);
    if (another)
        openOutput();
    if (seen.midiCode || seen.linearCode || sounding)
        place();
    if (! seen.midiCode)
        stopTimer();
}

/// Every millisecond, on the timer's thread.
void CodeDesk::hiResTimerCallback()
{
    const std::lock_guard lock (mutex);
    if (output == nullptr || ! midi)
        return;
    for (const auto& message : midi->due (clock.nanoseconds() + millisecond))
        output->sendMessageNow (juce::MidiMessage (message.bytes.data(), static_cast<int> (message.bytes.size())));
}
} // namespace shutterbeat::window
