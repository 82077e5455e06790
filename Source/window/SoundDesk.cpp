#include "window/SoundDesk.h"

#include "desk/FilmSound.h"
#include "window/Fonts.h"

#include <cmath>

namespace shutterbeat::window
{
SoundDesk::SoundDesk (const play::Clock& steadyClock, Bench& theBench)
    : bench (theBench)
    , steady (steadyClock)
    , theClock (steadyClock)
    , feeder (theClock)
    , code (theClock, theBench)
{
    bench.transport.setClock (theClock);
    bench.onSound = [this] { wishChanged(); };
    manager.addChangeListener (this);
}

SoundDesk::~SoundDesk()
{
    bench.onSound = {};
    manager.removeChangeListener (this);
    manager.removeAudioCallback (this);
    manager.closeAudioDevice();
    bench.transport.setClock (steady);
}

void SoundDesk::open()
{
    seen = bench.soundWish();
    gain = seen.muted ? 0.0f : static_cast<float> (std::pow (10.0, seen.gainDb / 20.0));
    juce::AudioDeviceManager::AudioDeviceSetup setup;
    setup.outputDeviceName = text (seen.device);
    setup.useDefaultInputChannels = false;
    setup.inputChannels.clear();
    const auto failed = manager.initialise (0, 2, nullptr, true, {}, seen.device.empty() ? nullptr : &setup);
    trouble = failed.isEmpty() ? std::string()
                               : "no sound device could be opened; the film runs by a silent clock. D chooses another device";
    std::vector<std::string> names;
    if (auto* type = manager.getCurrentDeviceTypeObject())
        for (const auto& name : type->getDeviceNames (false))
            if (! name.containsIgnoreCase ("plugin")) // ALSA's converters are listed beside the devices
                names.push_back (name.toStdString());
    bench.soundDevices = std::move (names);
    if (! opened)
        manager.addAudioCallback (this);
    opened = true;
    follow();
}

void SoundDesk::wishChanged()
{
    const auto& wish = bench.soundWish();
    const bool other = wish.device != seen.device, moved = wish.offsetMs != seen.offsetMs;
    seen = wish;
    gain = wish.muted ? 0.0f : static_cast<float> (std::pow (10.0, wish.gainDb / 20.0));
    if (other)
        open();
    if (moved)
        runsSeen = 0; // placed anew at the next tick
}

/// Reads the book's sounds away from the window and feeds them when they are there.
void SoundDesk::takeSounds()
{
    if (feeding || bench.times() == nullptr)
        return;
    // A tempo that is tried out is heard before it is anybody's.
    const auto tried = bench.tempo.tried();
    const auto& book = tried ? *tried : bench.book();
    const bool same = fed && clicked == seen.click && book.sounds.sharesWith (soundsOf.sounds) && (book.cues == soundsOf.cues)
                      && book.prints.sharesWith (soundsOf.prints) && book.editions.sharesWith (soundsOf.editions)
                      && book.edition == soundsOf.edition && book.delivery == soundsOf.delivery;
    if (same)
        return;
    soundsOf = book;
    fed = true;
    clicked = seen.click;
    if (book.sounds.empty() && ! clicked)
        return feeder.supply ({});
    feeding = true;
    struct Made
    {
        std::optional<desk::FilmSound> sound;
        std::vector<std::string> notes;
    };
    const auto made = std::make_shared<Made>();
    bench.inBackground (
        [made, click = clicked, open = desk::OpenBook{ book, bench.path(), "" }]
        {
            const auto times = spotting::timesOf (open.book);
            if (! times)
                return made->notes.push_back (times.error().text());
            desk::FilmSoundWish wish;
            if (click)
                wish.cueClicks.emplace();
            auto sound = desk::FilmSound::of (open, *times, wish);
            if (! sound)
                return made->notes.push_back (sound.error().text());
            made->notes = sound->notes();
            made->sound.emplace (std::move (*sound));
        },
        [this, made]
        {
            feeding = false;
            if (made->sound)
                feeder.supply ([sound = *made->sound] (const time::Rational& samplesPerSecond, int soundRate)
                               { return sound.renderAt (samplesPerSecond, soundRate); });
            for (const auto& note : made->notes)
                bench.complain (note);
        });
}

void SoundDesk::follow()
{
    takeSounds();
    code.follow();
    auto& transport = bench.transport;
    if (transport.runs() != runsSeen)
    {
        runsSeen = transport.runs();
        const auto start = transport.lastStart();
        // Only as it is delivered has a sound its place; at other paces the film runs silent.
        if (transport.playing() && transport.pace().running == play::Running::delivered)
            feeder.play (start.seconds - time::Rational (seen.offsetMs, 1000), transport.factor(), start.nanoseconds);
        else
            feeder.stop();
    }
    auto message = theClock.onDevice() ? std::string() : trouble.empty() ? theClock.message() : trouble;
    if (message.empty())
        message = feeder.message();
    if (message != bench.noSound)
    {
        bench.noSound = message;
        bench.changed();
    }
}

// ---- The device's thread

void SoundDesk::audioDeviceIOCallbackWithContext (const float* const*, int, float* const* out, int outChannels, int samples,
                                                  const juce::AudioIODeviceCallbackContext&)
{
    const auto first = theClock.took (samples);
    feeder.fill (out, outChannels, samples, first);
    const float by = gain.load (std::memory_order_relaxed);
    for (int channel = 0; channel < outChannels; ++channel)
        if (out[channel] != nullptr)
            juce::FloatVectorOperations::multiply (out[channel], by, samples);
    // Its level is the code's own, whatever the gain of the sounds.
    if (outChannels >= 2 && out[0] != nullptr && out[1] != nullptr)
    {
        juce::FloatVectorOperations::add (mono.data(), out[0], out[1], std::min (samples, static_cast<int> (mono.size())));
        if (code.fill (out[1], samples, first))
            for (int i = 0; i < std::min (samples, static_cast<int> (mono.size())); ++i)
                out[0][i] = 0.5f * mono[static_cast<std::size_t> (i)];
    }
}

void SoundDesk::audioDeviceAboutToStart (juce::AudioIODevice* device)
{
    const int block = device->getCurrentBufferSizeSamples();
    // A device may ask for more than it says.
    mono.assign (static_cast<std::size_t> (4 * std::max (1, block)), 0.0f);
    code.prepare (4 * std::max (1, block));
    constexpr int blocksAtOnce = 4; // what a device takes before it plays the first
    theClock.deviceStarted (juce::roundToInt (device->getCurrentSampleRate()), block, blocksAtOnce * block,
                            device->getOutputLatencyInSamples());
}

void SoundDesk::audioDeviceStopped()
{
    theClock.deviceStopped();
}

void SoundDesk::changeListenerCallback (juce::ChangeBroadcaster*)
{
    // The clock is another line now: what plays is placed anew.
    runsSeen = 0;
}
} // namespace shutterbeat::window
