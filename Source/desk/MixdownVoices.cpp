#include "desk/MixdownVoices.h"

#include "desk/FilmSound.h"
#include "desk/Sounds.h"
#include "spotting/SoundEdit.h"
#include "time/Clock.h"

#include <cmath>
#include <map>

namespace shutterbeat::desk
{
namespace
{
/// "0.71 semitones higher".
std::string pitchText (const time::Rational& factor)
{
    const double semitones = -12 * std::log2 (time::toDouble (factor));
    const auto hundredths =
        time::Rational (static_cast<std::int64_t> (std::llround (std::abs (semitones) * 100))) / time::Rational (100);
    return time::decimalText (hundredths, 2) + " semitones " + (semitones > 0 ? "higher" : "lower");
}

std::string deliveryText (const film::Delivery& delivery)
{
    return time::rateName (delivery.rate) + " (" + film::fillName (delivery.from) + ")";
}

/// What a file that has to be re-timed is told, or asked.
Result<Done> sayRetiming (const spotting::Sound& sound, const film::Delivery& from, const film::Delivery& to,
                          const time::Rational& factor, Retime how, std::vector<std::string>& notes)
{
    const auto what = "made for " + deliveryText (from) + "; at " + deliveryText (to) + " it has to last "
                      + time::fractionText (factor) + " as long";
    switch (how)
    {
    case Retime::ask:
        return usageError ("sound " + sound.name, "was " + what + "; choose --retime resample (" + pitchText (factor)
                                                      + "), --retime stretch (pitch kept) or --retime none");
    case Retime::resample:
        notes.push_back ("sound " + sound.name + ", " + what + ": re-timed by resampling, " + pitchText (factor));
        break;
    case Retime::stretch:
        notes.push_back ("sound " + sound.name + ", " + what + ": re-timed by stretching, pitch kept");
        break;
    case Retime::none:
        notes.push_back ("sound " + sound.name + ", " + what + ": not re-timed, it runs away from the picture");
        break;
    }
    return Done{};
}
} // namespace

time::Rational lengthFactor (const film::Delivery& from, const film::Delivery& to)
{
    const auto scale = [] (const film::Delivery& d) { return d.countingRate() / d.rate.perSecond; };
    return scale (to) / scale (from);
}

Result<MixdownVoices> MixdownVoices::of (const OpenBook& open, const spotting::BookTimes& times, const MixdownWish& wish,
                                         const std::vector<time::Rational>& reelStarts,
                                         std::pair<std::int64_t, std::int64_t> samples, std::vector<mix::Click> clicks,
                                         Mixdown& made, const Progress& progress)
{
    const auto& timings = times.timings;
    const int rate = wish.samplesPerSecond;
    const time::Rational one (1);
    std::map<time::Rational, mix::Plan> plans; // by factor
    plans[one].clicks = std::move (clicks);
    for (const auto& sound : open.book.sounds)
    {
        if (wish.soundIds ? wish.soundIds->count (sound.id) == 0 : sound.muted)
            continue;
        const auto at = spotting::startOf (open.book, timings, sound);
        if (! at)
            return Error{ at.error().code, "sound " + sound.name, at.error().message };
        if (wish.reel && at->reel != *wish.reel)
            continue;
        auto source = openSource (soundPath (open, sound));
        if (! source)
            return source.error();
        // A sound that nobody said anything else of was made for what the book is delivered as.
        const auto from = sound.madeFor ? sound.madeFor->delivery : open.book.delivery;
        auto factor = lengthFactor (from, timings.delivery());
        if (factor != one)
            if (const auto said = sayRetiming (sound, from, timings.delivery(), factor, wish.retime, made.notes); ! said)
                return said.error();
        if (wish.retime == Retime::none)
            factor = one;
        // What lies between the cue's in and the sound's start is the sound's own time, and is re-timed with it.
        const auto start = reelStarts[at->reel] + at->clock + sound.place.seconds * (factor - one);
        plans[factor].sounds.push_back ({ *source, start / factor, sound.gain, false, sound.name });
        made.sounds.push_back ({ sound.id, sound.name, time::clockText (start, 3), factor });
        if (sound.madeFor && sound.madeFor->edition != timings.edition().letter)
            made.notes.push_back ("sound " + sound.name + " was made for edition " + sound.madeFor->edition + "; this is edition "
                                  + timings.edition().letter);
    }
    if (made.sounds.empty() && plans[one].clicks.empty() && ! wish.pop)
        return usageError (open.path, "has no sound to mix here; add some with: shutterbeat sounds " + open.path + " add FILE");
    MixdownVoices voices;
    for (auto& [factor, plan] : plans)
    {
        if (factor == one || wish.retime == Retime::resample)
        {
            // Sample s of the film's grid is second s / (rate * factor) of the sounds' own.
            voices.mixers.push_back (std::make_shared<mix::Mixer> (std::move (plan), time::Rational (rate) * factor, rate));
            continue;
        }
        auto mixer = std::make_shared<mix::Mixer> (std::move (plan), time::Rational (rate), rate);
        const auto first = time::roundOf (time::Rational (samples.first) / factor);
        const auto end = time::ceilOf (time::Rational (samples.second) / factor);
        auto stretch = mix::Stretch::of ([mixer] (std::int64_t at, std::span<float> stereo) { return mixer->render (at, stereo); },
                                         first, end - first, factor, rate,
                                         [&] (double fraction) { return ! progress || progress (fraction, "stretching"); });
        if (! stretch)
            return stretch.error();
        voices.stretched.push_back (std::move (*stretch));
    }
    return voices;
}

Result<Done> MixdownVoices::add (std::int64_t first, std::span<float> stereo)
{
    block.resize (stereo.size());
    const auto sum = [&]
    {
        for (std::size_t i = 0; i < stereo.size(); ++i)
            stereo[i] += block[i];
    };
    for (const auto& mixer : mixers)
    {
        if (! mixer->render (first, block))
            return unreadable (mixer->failed(), "can't be read any more; check that its disk is still there");
        sum();
    }
    for (auto& one : stretched)
    {
        if (! one.read (block))
            return unreadable ("stretching", "a sound can't be read any more; check that its disk is still there");
        sum();
    }
    return Done{};
}
} // namespace shutterbeat::desk
