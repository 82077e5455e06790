#include "desk/Sounds.h"

#include "desk/FilmPath.h"
#include "media/Identity.h"
#include "media/SoundReader.h"
#include "mix/LinearTimecode.h"
#include "spotting/SoundEdit.h"
#include "time/Clock.h"
#include "time/Text.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::desk
{
namespace
{
std::string shown (const time::Rational& seconds)
{
    return time::clockText (seconds, 3);
}

bool isWordLetter (char c)
{
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || (static_cast<unsigned char> (c) & 0x80) != 0;
}

/// Where the label of a stretch of linear timecode puts sample 0, in seconds from picture start of the reel.
Result<time::Rational> placeByLtc (media::SoundReader& reader, int channel, const film::Timings& timings, std::size_t reel,
                                   std::string& note, const Progress& progress)
{
    const auto& info = reader.info();
    if (channel < 1 || channel > info.channels)
        return usageError ("channel " + std::to_string (channel), "the sound has " + std::to_string (info.channels));
    const auto& final = timings.delivery().rate;
    if (! time::hasTimecode (final))
        return usageError ("LTC", "says labels, but the final rate " + time::rateName (final)
                                      + " has no timecode; say where the sound starts");
    const auto labels = time::halfLabelRate (final);
    mix::LtcFinder finder (info.rate, time::labelsPerSecond (labels));
    const auto wide = static_cast<std::size_t> (info.channels);
    std::vector<float> block (static_cast<std::size_t> (info.rate) * wide), mono (static_cast<std::size_t> (info.rate));
    // Ten labels on end that agree where sample 0 lies: one alone may be a misreading.
    std::optional<std::int64_t> previous;
    int run = 0;
    for (std::int64_t at = 0; at < info.samples; at += info.rate)
    {
        if (progress && ! progress (static_cast<double> (at) / static_cast<double> (info.samples), "Reading linear timecode"))
            return Error{ ErrorCode::cancelled, info.path, "stopped" };
        if (const auto read = reader.read (at, block); ! read)
            return read.error();
        for (std::size_t i = 0; i < mono.size(); ++i)
            mono[i] = block[i * wide + static_cast<std::size_t> (channel - 1)];
        for (const auto& label : finder.feed (mono))
        {
            const auto count = time::parseLabel (label.text, labels, time::LabelReading::media);
            run = count && ! label.backward && previous && count->value == *previous + 1 ? run + 1 : 0;
            previous = count ? std::optional<std::int64_t> (count->value) : std::nullopt;
            if (run < 10)
                continue;
            const auto start = time::Rational (timings.startCount (reel)) / final.perSecond;
            const auto place = time::Rational (count->value) / labels.perSecond - start
                               - time::Rational (label.first) / time::Rational (info.rate);
            // The sound starts on a whole sample of its own; what is finer is the decoder's.
            const auto whole = time::Rational (time::roundOf (place * time::Rational (info.rate))) / time::Rational (info.rate);
            note = "linear timecode on channel " + std::to_string (channel) + " says " + label.text + " at "
                   + shown (time::Rational (label.first) / time::Rational (info.rate)) + " of the sound";
            return whole;
        }
    }
    return usageError ("LTC", "channel " + std::to_string (channel) + " has no linear timecode that runs for ten labels at "
                                  + time::rateName (labels) + "; name another channel, or say where the sound starts");
}
} // namespace

std::string soundPath (const OpenBook& open, const spotting::Sound& sound)
{
    return pathFromBook (open.path, sound.path);
}

std::vector<MissingSound> missingSounds (const OpenBook& open)
{
    std::vector<MissingSound> missing;
    for (const auto& sound : open.book.sounds)
    {
        const auto path = soundPath (open, sound);
        const auto identity = media::fileIdentity (path);
        if (! identity)
            missing.push_back ({ sound.id, path, identity.error().message });
        else if (! sound.identity.empty() && *identity != sound.identity)
            missing.push_back ({ sound.id, path, "it is not the file that was added; it has changed since" });
    }
    return missing;
}

const spotting::Cue* cueInName (const spotting::Book& book, const std::string& fileName)
{
    const auto name = time::lowerAscii (fileName);
    const spotting::Cue* found = nullptr;
    for (const auto& cue : book.cues)
    {
        const auto number = time::lowerAscii (cue.number);
        bool named = false;
        for (auto at = number.empty() ? std::string::npos : name.find (number); at != std::string::npos;
             at = name.find (number, at + 1))
            named = named
                    || ((at == 0 || ! isWordLetter (name[at - 1]))
                        && (at + number.size() == name.size() || ! isWordLetter (name[at + number.size()])));
        if (named && found != nullptr)
            return nullptr;
        if (named)
            found = &cue;
    }
    return found;
}

Result<FoundSound> findSound (const OpenBook& open, const spotting::BookTimes& times, const SoundWish& wish,
                              const Progress& progress)
{
    auto reader = media::SoundReader::open (wish.file);
    if (! reader)
        return reader.error();
    const auto& info = reader->info();
    FoundSound found;
    auto& sound = found.sound;
    const std::string fileName = std::filesystem::path (wish.file).filename().string();
    sound.name = wish.name.empty() ? fileName : wish.name;
    sound.path = pathForBook (open.path, wish.file);
    sound.identity = info.identity;
    sound.rate = info.rate;
    sound.channels = info.channels;
    sound.samples = info.samples;
    sound.timeReference = info.timeReference;
    sound.kind = wish.kind;
    sound.gain = wish.gain;
    sound.muted = wish.muted;
    sound.note = wish.note;
    sound.place.reel = wish.reel;
    const auto& timings = times.timings;
    sound.madeFor = spotting::MadeFor{ timings.edition().letter, timings.delivery() };
    found.notes = info.warnings;
    if (wish.reel >= timings.reelCount())
        return usageError ("reel " + std::to_string (wish.reel + 1),
                           "the edition has " + std::to_string (timings.reelCount()) + " of them");
    const auto* named = cueInName (open.book, fileName);
    if (wish.cue)
    {
        const auto cue = spotting::cueNamed (open.book, *wish.cue);
        if (! cue)
            return cue.error();
        sound.cue = cue->id;
    }
    else if (named != nullptr)
        sound.cue = named->id;

    if (wish.at)
    {
        if (const auto offset = spotting::parseSoundOffset (*wish.at))
            sound.place.seconds = *offset;
        else
        {
            const auto typed = film::parsePlace (*wish.at);
            if (! typed)
                return typed.error();
            const auto position = timings.find (*typed);
            if (! position)
                return position.error();
            const auto at = timings.times (*position);
            sound.place.reel = at.reel;
            sound.place.seconds = at.clock;
        }
        return found;
    }
    if (wish.ltcChannel)
    {
        std::string note;
        const auto place = placeByLtc (*reader, *wish.ltcChannel, timings, wish.reel, note, progress);
        if (! place)
            return place.error();
        sound.place.seconds = *place;
        sound.placed = spotting::PlacedBy::ltc;
        found.notes.push_back (note);
        return found;
    }
    if (wish.cue)
    {
        sound.place.cue = sound.cue;
        if (wish.from)
        {
            const auto offset = spotting::parseSoundOffset (*wish.from);
            if (! offset)
                return offset.error();
            sound.place.seconds = *offset;
        }
        return found;
    }
    std::string tried = "it carries no time stamp";
    if (info.timeReference)
    {
        const auto place = spotting::placeOfTimeStamp (timings, wish.reel, *info.timeReference, info.rate);
        if (place)
        {
            sound.place.seconds = *place;
            sound.placed = spotting::PlacedBy::wavTimeStamp;
            found.notes.push_back ("placed by its WAV time stamp, " + shown (*place) + " from picture start");
            return found;
        }
        tried = "its WAV time stamp " + place.error().message;
    }
    if (named != nullptr)
    {
        sound.place.cue = named->id;
        sound.placed = spotting::PlacedBy::name;
        found.notes.push_back ("placed at the in of cue " + named->number + ", which its name says");
        return found;
    }
    return usageError (wish.file, "where it belongs is not known: " + tried
                                      + ", and its name says no cue; give --at PLACE, --cue CUE or "
                                        "--ltc CHANNEL");
}
} // namespace shutterbeat::desk
