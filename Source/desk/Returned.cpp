#include "desk/Returned.h"

#include "desk/FilmPath.h"
#include "desk/SoundEvidence.h"
#include "desk/Sounds.h"
#include "exchange/MidiRead.h"
#include "exchange/MidiTempo.h"
#include "spotting/SoundEdit.h"
#include "store/WholeFile.h"
#include "time/Clock.h"
#include "time/Timecode.h"

#include <algorithm>
#include <filesystem>
#include <fstream>

namespace shutterbeat::desk
{
namespace
{
using time::Rational;

/// Looked through for timecode: longer than any leader.
constexpr int ltcSeconds = 30, mostChannels = 8;

bool isMidi (const std::string& path)
{
    std::ifstream file (path, std::ios::binary);
    char head[4] = {};
    file.read (head, 4);
    return file.gcount() == 4 && std::string_view (head, 4) == "MThd";
}

/// The cue a moment of a reel lies in, else the next one that begins within five seconds: an upbeat or free clicks come before.
const spotting::CueTimes* cueAt (const spotting::BookTimes& times, std::size_t reel, const Rational& seconds)
{
    const spotting::CueTimes* next = nullptr;
    for (const auto& row : times.cues)
    {
        if (! row.in || row.in->reel != reel || ! row.length)
            continue;
        if (seconds >= row.in->clock && seconds < row.out->clock)
            return &row;
        if (seconds < row.in->clock && row.in->clock - seconds <= Rational (5)
            && (next == nullptr || row.in->clock < next->in->clock))
            next = &row;
    }
    return next;
}

void compare (ReturnedFile& file, const spotting::BookTimes& times)
{
    const auto half = Rational (1, 2) / times.timings.delivery().rate.perSecond;
    for (std::size_t i = 1; i < file.signs.size(); ++i)
    {
        const auto& used = file.signs[0];
        const auto& other = file.signs[i];
        if (used.seconds && other.seconds)
        {
            const auto apart = *other.seconds - *used.seconds;
            const auto size = apart.sign() < 0 ? -apart : apart;
            const bool far = size > half;
            file.disagree = file.disagree || far;
            file.notes.push_back (other.by + " lies " + time::decimalText (size * Rational (1000), 1) + " ms "
                                  + (apart.sign() < 0 ? "before " : "after ") + used.by
                                  + (far ? ": they disagree, look at it" : ": they agree"));
        }
        if (! used.cue.empty() && ! other.cue.empty() && used.cue != other.cue)
        {
            file.disagree = true;
            file.notes.push_back (other.by + " speaks of another cue than " + used.by);
        }
    }
}

ReturnedSign bySign (const spotting::BookTimes& times, std::size_t reel, const std::string& by, const Rational& seconds,
                     const std::string& said)
{
    const auto* cue = cueAt (times, reel, seconds);
    return { by, seconds, cue != nullptr ? cue->cue.id : "", said };
}

void addName (ReturnedFile& file, const OpenBook& open, const spotting::BookTimes& times, std::size_t reel)
{
    const auto* named = cueInName (open.book, std::filesystem::path (file.path).filename().string());
    if (named == nullptr)
        return;
    ReturnedSign sign{ "name", {}, named->id, "its name says cue " + named->number };
    const auto* row = spotting::cueRow (times, named->id);
    // Only a name: it begins at the cue's in. With another sign the name tells the cue alone.
    if (row != nullptr && row->in && row->in->reel == reel && file.signs.empty())
        sign.seconds = row->in->clock;
    file.signs.push_back (std::move (sign));
}

Result<ReturnedFile> matchMidi (const OpenBook& open, const spotting::BookTimes& times, const std::string& path, std::size_t reel)
{
    ReturnedFile file{ path, true, {}, "", false, {}, {} };
    const auto bytes = store::readWhole (path);
    if (! bytes)
        return bytes.error();
    const auto midi = exchange::readMidiFile (*bytes);
    if (! midi)
        return unreadable (path, midi.error().message);
    for (const auto& marker : midi->markers)
        if (const auto* cue = cueInName (open.book, marker.text); cue != nullptr)
        {
            file.signs.push_back ({ "marker", {}, cue->id, "its marker \"" + marker.text + "\" names cue " + cue->number });
            break;
        }
    const auto& rate = times.timings.delivery().rate;
    if (midi->smpteOffset && time::hasTimecode (rate))
    {
        const auto start = Rational (times.timings.startCount (reel)) / rate.perSecond;
        auto seconds = exchange::offsetSeconds (*midi->smpteOffset) - start;
        if (seconds > Rational (43200))
            seconds -= Rational (86400);
        file.signs.push_back (bySign (times, reel, "SMPTE offset", seconds,
                                      "its SMPTE offset lies " + time::clockText (seconds, 3) + " from picture start"));
    }
    addName (file, open, times, reel);
    if (! file.signs.empty())
        for (const auto& sign : file.signs)
            if (file.cue.empty())
                file.cue = sign.cue;
    compare (file, times);
    if (const auto* cue = spotting::cueOf (open.book, file.cue))
        file.notes.push_back ("take its tempos with: shutterbeat tempo " + open.path + " " + cue->number + " read " + path);
    return file;
}
} // namespace

Result<ReturnedFile> matchReturned (const OpenBook& open, const spotting::BookTimes& times, const std::string& path,
                                    std::size_t reel, const Progress& progress)
{
    const auto& timings = times.timings;
    if (reel >= timings.reelCount())
        return usageError ("reel " + std::to_string (reel + 1),
                           "the edition has " + std::to_string (timings.reelCount()) + " of them");
    if (isMidi (path))
        return matchMidi (open, times, path, reel);
    auto reader = media::SoundReader::open (path);
    if (! reader)
        return reader.error();
    const auto& info = reader->info();
    ReturnedFile file{ path, false, {}, "", false, info.warnings, {} };
    if (time::hasTimecode (timings.delivery().rate))
        for (int channel = 1; channel <= std::min (info.channels, mostChannels); ++channel)
        {
            const auto found = placeByLtc (*reader, channel, timings, reel, ltcSeconds, progress);
            if (! found && found.error().code != ErrorCode::usage)
                return found.error();
            if (found)
            {
                file.signs.push_back (bySign (times, reel, "LTC", found->seconds, found->said));
                break;
            }
        }
    if (info.timeReference)
    {
        const auto place = spotting::placeOfTimeStamp (timings, reel, *info.timeReference, info.rate);
        if (place)
            file.signs.push_back (bySign (times, reel, "WAV time stamp", *place,
                                          "its WAV time stamp lies " + time::clockText (*place, 3) + " from picture start"));
        else
            file.notes.push_back ("its WAV time stamp " + place.error().message);
    }
    if (const auto pop = placeByPop (*reader, timings))
    {
        // A pop is before the picture: the sound is of the whole reel, whatever cue comes first.
        file.signs.push_back ({ "pop", pop->seconds, "", pop->said });
    }
    else if (pop.error().code != ErrorCode::usage)
        return pop.error();
    addName (file, open, times, reel);
    for (const auto& sign : file.signs)
        if (sign.by == "name")
            file.cue = sign.cue;
    for (const auto& sign : file.signs)
        if (file.cue.empty())
            file.cue = sign.cue;
    compare (file, times);
    if (file.signs.empty() || ! file.signs[0].seconds)
        return file;

    spotting::Sound sound;
    sound.name = std::filesystem::path (path).filename().string();
    sound.path = pathForBook (open.path, path);
    sound.identity = info.identity;
    sound.rate = info.rate;
    sound.channels = info.channels;
    sound.samples = info.samples;
    sound.timeReference = info.timeReference;
    sound.cue = file.cue;
    sound.madeFor = spotting::MadeFor{ timings.edition().letter, timings.delivery() };
    const auto& by = file.signs[0].by;
    sound.placed = by == "LTC"              ? spotting::PlacedBy::ltc
                   : by == "WAV time stamp" ? spotting::PlacedBy::wavTimeStamp
                   : by == "pop"            ? spotting::PlacedBy::pop
                                            : spotting::PlacedBy::name;
    if (sound.placed == spotting::PlacedBy::name)
        sound.place.cue = file.cue;
    else
    {
        sound.place.reel = reel;
        sound.place.seconds = *file.signs[0].seconds;
    }
    file.sound = std::move (sound);
    return file;
}
} // namespace shutterbeat::desk
