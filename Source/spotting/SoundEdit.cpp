#include "spotting/SoundEdit.h"

#include "spotting/Ids.h"
#include "time/Clock.h"
#include "time/Timecode.h"

#include <algorithm>
#include <set>

namespace shutterbeat::spotting
{
namespace
{
Result<Done> checkSound (const Book& book, const Sound& sound)
{
    const std::string where = "sound " + (sound.name.empty() ? sound.id : "\"" + sound.name + "\"");
    if (! sound.cue.empty() && cueOf (book, sound.cue) == nullptr)
        return usageError (where, "names cue " + sound.cue + ", which the book does not have");
    if (! sound.place.cue.empty() && cueOf (book, sound.place.cue) == nullptr)
        return usageError (where, "is placed from cue " + sound.place.cue + ", which the book does not have");
    if (! sound.place.seconds.valid() || sound.place.seconds < time::Rational (-86400)
        || sound.place.seconds > time::Rational (86400))
        return usageError (where, "lies more than a day away; give a place within a day of picture start or of its cue");
    if (const auto* edition = editionOf (book, book.edition);
        sound.place.cue.empty() && edition != nullptr && sound.place.reel >= edition->reels.size())
        return usageError (where, "is placed in reel " + std::to_string (sound.place.reel + 1) + ", but edition " + edition->letter
                                      + " has " + std::to_string (edition->reels.size()));
    if (sound.rate < 1 || sound.rate > 1'000'000 || sound.channels < 1 || sound.channels > 1024 || sound.samples < 0)
        return usageError (where, "has a rate, channel count or length that no sound has");
    if (! sound.gain.valid() || sound.gain < time::Rational (-120) || sound.gain > time::Rational (24))
        return usageError (where, "its gain lies from -120 to +24 decibels");
    return Done{};
}
} // namespace

Result<Edited> addSounds (const Book& book, const std::string& person, std::vector<Sound> sounds)
{
    for (const auto& sound : sounds)
        if (auto fit = checkSound (book, sound); ! fit)
            return fit.error();
    Edited edited{ book, {} };
    auto ids = takeIds (edited.book, person, sounds.size());
    if (! ids)
        return ids.error();
    auto list = book.sounds.list();
    for (std::size_t i = 0; i < sounds.size(); ++i)
    {
        sounds[i].id = (*ids)[i];
        list.push_back (std::move (sounds[i]));
    }
    edited.book.sounds = std::move (list);
    edited.ids = std::move (*ids);
    return edited;
}

Result<Book> setSound (const Book& book, const Sound& sound)
{
    if (auto fit = checkSound (book, sound); ! fit)
        return fit.error();
    auto list = book.sounds.list();
    const auto found = std::find_if (list.begin(), list.end(), [&] (const Sound& s) { return s.id == sound.id; });
    if (found == list.end())
        return usageError ("sound " + sound.id, "the book does not have it");
    *found = sound;
    Book changed = book;
    changed.sounds = std::move (list);
    return changed;
}

Result<Book> removeSounds (const Book& book, const std::vector<std::string>& ids)
{
    for (const auto& id : ids)
        if (soundOf (book, id) == nullptr)
            return usageError ("sound " + id, "the book does not have it; nothing was removed");
    const std::set<std::string> gone (ids.begin(), ids.end());
    std::vector<Sound> kept;
    for (const auto& sound : book.sounds)
        if (gone.count (sound.id) == 0)
            kept.push_back (sound);
    Book changed = book;
    changed.sounds = std::move (kept);
    return changed;
}

const Sound* soundOf (const Book& book, const std::string& id)
{
    const auto found = std::find_if (book.sounds.begin(), book.sounds.end(), [&] (const Sound& s) { return s.id == id; });
    return found == book.sounds.end() ? nullptr : &*found;
}

Result<Sound> soundNamed (const Book& book, const std::string& idOrName)
{
    if (const auto* sound = soundOf (book, idOrName))
        return *sound;
    const Sound* found = nullptr;
    for (const auto& sound : book.sounds)
        if (sound.name == idOrName)
        {
            if (found != nullptr)
                return usageError ("sound " + idOrName, "two sounds have that name; give the id, " + found->id + " or " + sound.id);
            found = &sound;
        }
    if (found == nullptr)
        return usageError ("sound " + idOrName, "the book has no sound of that id or name");
    return *found;
}

Result<SoundStart> startOf (const Book& book, const film::Timings& timings, const Sound& sound)
{
    if (sound.place.cue.empty())
    {
        if (sound.place.reel >= timings.reelCount())
            return usageError ("sound " + sound.id, "is placed in reel " + std::to_string (sound.place.reel + 1)
                                                        + ", which this edition does not have; place it again");
        return SoundStart{ sound.place.reel, sound.place.seconds };
    }
    const auto* cue = cueOf (book, sound.place.cue);
    if (cue == nullptr)
        return usageError ("sound " + sound.id, "its cue " + sound.place.cue + " is gone; place it again");
    const auto in = timings.find (cue->in);
    if (! in)
        return usageError ("sound " + sound.id, "the in of its cue " + cue->number + " is lost: " + in.error().message);
    const auto times = timings.times (*in);
    return SoundStart{ times.reel, times.clock + sound.place.seconds };
}

Result<time::Rational> placeOfTimeStamp (const film::Timings& timings, std::size_t reel, std::int64_t timeReference, int rate,
                                         const time::Rational& tolerance)
{
    const auto& final = timings.delivery().rate;
    if (! time::hasTimecode (final))
        return usageError ("WAV time stamp", "counts from midnight, but the final rate " + time::rateName (final)
                                                 + " has no timecode; say where the sound starts");
    const auto stamp = time::Rational (timeReference) / time::Rational (rate);
    const auto start = time::Rational (timings.startCount (reel)) / final.perSecond;
    const auto length = timings.clockOf (timings.deliveredLength (reel));
    const auto day = time::Rational (time::labelsPerDay (final)) / final.perSecond;
    for (const auto& seconds : { stamp - start, stamp - start + day, stamp - start - day })
        if (seconds >= -tolerance && seconds <= length + tolerance)
            return seconds;
    return usageError ("WAV time stamp", "says " + time::longClockText (stamp) + " after midnight, but picture start is "
                                             + time::longClockText (start)
                                             + "; the sound was stamped for another start: say where it starts");
}
} // namespace shutterbeat::spotting
