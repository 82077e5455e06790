#include "desk/Sounds.h"

#include "desk/FilmPath.h"
#include "desk/SoundEvidence.h"
#include "media/Identity.h"
#include "media/SoundReader.h"
#include "spotting/SoundEdit.h"
#include "time/Clock.h"
#include "time/Text.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::desk
{
namespace
{
bool isWordLetter (char c)
{
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || (static_cast<unsigned char> (c) & 0x80) != 0;
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
        const auto place = placeByLtc (*reader, *wish.ltcChannel, timings, wish.reel, {}, progress);
        if (! place)
            return place.error();
        sound.place.seconds = place->seconds;
        sound.placed = spotting::PlacedBy::ltc;
        found.notes.push_back (place->said);
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
            found.notes.push_back ("placed by its WAV time stamp, " + time::clockText (*place, 3) + " from picture start");
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
