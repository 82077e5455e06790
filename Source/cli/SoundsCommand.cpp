#include "cli/Command.h"
#include "cli/TimesText.h"
#include "desk/Sounds.h"
#include "spotting/SoundEdit.h"
#include "time/Clock.h"

#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct SoundWords
{
    std::string book, person = "me";
    std::vector<std::string> names; ///< files to add, or ids
    std::optional<std::string> at, cue, from, name, kind, gain, note, placed, file;
    std::optional<int> ltc;
    int reel = 1;
    bool muted = false, heard = false, json = false;
    AskedWords asked;

    void addFieldsTo (CLI::App& command)
    {
        command.add_option ("--at", at, "Where its first sample lies: film:1000, tc:01:00:55:14, -4.5s, 192000@48000 (samples)");
        command.add_option ("--cue", cue, "Id or number of the cue it is for; placed from its in unless --at says otherwise");
        command.add_option ("--from", from, "How long after the cue's in it starts: 1/2s, -96000@48000");
        command.add_option ("--name", name, "Name, else the file's");
        command.add_option ("--kind", kind, "mock-up, take, mix, stem");
        command.add_option ("--gain", gain, "Decibels: -6, 1.5");
        auto* mute = command.add_flag ("--mute", muted, "It is not heard");
        command.add_flag ("--unmute", heard, "It is heard")->excludes (mute);
        command.add_option ("--note", note, "Note");
    }
};

/// A sound as the list shows it.
struct Row
{
    const spotting::Sound* sound = nullptr;
    std::optional<spotting::SoundStart> start;
    std::string lost, missing, timecode, cue;
};

std::vector<Row> rowsOf (const TimedBook& timed)
{
    std::vector<Row> rows;
    const auto missing = desk::missingSounds (timed.open);
    const auto& timings = timed.times.timings;
    for (const auto& sound : timed.open.book.sounds)
    {
        Row row;
        row.sound = &sound;
        const auto start = spotting::startOf (timed.open.book, timings, sound);
        if (start)
        {
            row.start = *start;
            row.timecode = timings.timecodeOf (time::floorOf (start->clock * timings.delivery().rate.perSecond), start->reel);
        }
        else
            row.lost = start.error().message;
        for (const auto& gone : missing)
            if (gone.id == sound.id)
                row.missing = gone.why;
        if (const auto* cue = spotting::cueOf (timed.open.book, sound.cue))
            row.cue = cue->number;
        rows.push_back (std::move (row));
    }
    return rows;
}

/// True when the sound was made for another edition or delivery than the one the times are for.
bool madeForOther (const spotting::Sound& sound, const film::Timings& timings)
{
    return sound.madeFor && ! (sound.madeFor->edition == timings.edition().letter && sound.madeFor->delivery == timings.delivery());
}

std::string madeForText (const spotting::MadeFor& made)
{
    return "edition " + made.edition + " at " + time::rateName (made.delivery.rate) + ", " + film::fillName (made.delivery.from);
}

Json rowJson (const Row& row, const film::Timings& timings)
{
    const auto& sound = *row.sound;
    Json json{ { "id", sound.id },
               { "name", sound.name },
               { "path", sound.path },
               { "kind", std::string (spotting::soundKindName (sound.kind)) },
               { "rate", sound.rate },
               { "channels", sound.channels },
               { "samples", sound.samples },
               { "length", time::secondsText (spotting::lengthOf (sound), 3) },
               { "time_reference", sound.timeReference ? Json (*sound.timeReference) : Json (nullptr) },
               { "placed_by", std::string (spotting::placedByName (sound.placed)) },
               { "cue", sound.cue },
               { "from_cue", sound.place.cue },
               { "place", spotting::soundOffsetText (sound.place.seconds, sound.rate) },
               { "gain_db", time::fractionText (sound.gain) },
               { "muted", sound.muted },
               { "note", sound.note } };
    if (row.start)
    {
        json["reel"] = row.start->reel + 1;
        json["start"] = time::secondsText (row.start->clock, 3);
        json["start_exact"] = time::fractionText (row.start->clock);
        json["start_sample"] = time::sampleAt (row.start->clock, 48000);
        json["timecode"] = row.timecode.empty() ? Json (nullptr) : Json (row.timecode);
    }
    else
        json["lost"] = row.lost;
    if (sound.madeFor)
        json["made_for"] = madeForText (*sound.madeFor);
    json["made_for_other"] = madeForOther (sound, timings);
    if (! row.missing.empty())
        json["missing"] = row.missing;
    return json;
}

int listSounds (const SoundWords& words, const Console& console)
{
    const auto timed = timedBook (console, words.book, words.asked);
    if (! timed)
        return console.fail (timed.error());
    const auto rows = rowsOf (*timed);
    const auto& timings = timed->times.timings;
    if (words.json)
    {
        Json list = Json::array();
        for (const auto& row : rows)
            list.push_back (rowJson (row, timings));
        console.out << list.dump (2) << "\n";
        return done;
    }
    for (const auto& row : rows)
    {
        const auto& sound = *row.sound;
        console.out << sound.id << "  " << sound.name << "\n    " << spotting::soundKindName (sound.kind);
        if (! row.cue.empty())
            console.out << " for cue " << row.cue;
        console.out << ", " << time::clockText (spotting::lengthOf (sound)) << " long, " << sound.rate << " Hz, " << sound.channels
                    << (sound.channels == 1 ? " channel" : " channels") << "\n    ";
        if (row.start)
            console.out << "starts at " << (row.timecode.empty() ? "" : row.timecode + ", ")
                        << time::clockText (row.start->clock, 3) << " from picture start"
                        << (timings.reelCount() > 1 ? " of reel " + std::to_string (row.start->reel + 1) : "")
                        << " (placed: " << spotting::placedByName (sound.placed) << ")";
        else
            console.out << "has no place: " << row.lost;
        if (sound.gain != time::Rational (0))
            console.out << ", " << (sound.gain.sign() > 0 ? "+" : "") << time::decimalText (sound.gain, 1) << " dB";
        console.out << (sound.muted ? ", muted" : "") << "\n";
        if (madeForOther (sound, timings))
            console.out << "    made for " << madeForText (*sound.madeFor) << ", not for this delivery\n";
        if (! row.missing.empty())
            console.out << "    " << desk::soundPath (timed->open, sound) << ": " << row.missing << "\n";
    }
    if (rows.empty())
        console.out << "no sounds\n";
    return done;
}

/// Kind, gain and the like as typed, laid over a sound.
Result<Done> layFields (spotting::Sound& sound, const SoundWords& words)
{
    if (words.kind)
    {
        const auto kind = spotting::parseSoundKind (*words.kind);
        if (! kind)
            return kind.error();
        sound.kind = *kind;
    }
    if (words.gain)
    {
        const auto gain = time::parseRational (*words.gain);
        if (! gain)
            return gain.error();
        sound.gain = *gain;
    }
    sound.name = words.name.value_or (sound.name);
    sound.note = words.note.value_or (sound.note);
    sound.muted = words.muted || (sound.muted && ! words.heard);
    return Done{};
}

int addFiles (const SoundWords& words, const Console& console)
{
    std::vector<std::string> added;
    const auto edit = [&] (const desk::OpenBook& open) -> Result<spotting::Book>
    {
        const auto times = spotting::timesOf (open.book);
        if (! times)
            return times.error();
        std::vector<spotting::Sound> sounds;
        for (const auto& file : words.names)
        {
            desk::SoundWish wish;
            wish.file = file;
            wish.at = words.at;
            wish.cue = words.cue;
            wish.from = words.from;
            wish.ltcChannel = words.ltc;
            wish.reel = static_cast<std::size_t> (words.reel - 1);
            auto found = desk::findSound (open, *times, wish, console.progress());
            if (! found)
                return found.error();
            for (const auto& note : found->notes)
                console.notes ({ found->sound.name + ": " + note });
            if (const auto laid = layFields (found->sound, words); ! laid)
                return laid.error();
            sounds.push_back (std::move (found->sound));
        }
        auto edited = spotting::addSounds (open.book, words.person, std::move (sounds));
        if (! edited)
            return edited.error();
        added = edited->ids;
        return std::move (edited->book);
    };
    const int status = editBook (console, words.book, edit);
    if (status != done)
        return status;
    if (words.json)
        console.out << Json{ { "added", added } }.dump (2) << "\n";
    else
        for (const auto& id : added)
            console.out << id << "\n";
    return status;
}

Result<spotting::Book> changed (const desk::OpenBook& open, const SoundWords& words, const Console& console)
{
    auto sound = spotting::soundNamed (open.book, words.names.front());
    if (! sound)
        return sound.error();
    const bool placed = words.at || words.cue || words.from || words.ltc;
    if (placed || words.file)
    {
        const auto times = spotting::timesOf (open.book);
        if (! times)
            return times.error();
        desk::SoundWish wish;
        wish.file = words.file.value_or (desk::soundPath (open, *sound));
        wish.at = words.at;
        wish.cue = words.cue                                  ? words.cue
                   : words.from && ! sound->place.cue.empty() ? std::optional (sound->place.cue)
                                                              : std::nullopt;
        wish.from = words.from;
        wish.ltcChannel = words.ltc;
        wish.reel = static_cast<std::size_t> (words.reel - 1);
        if (! placed)
            wish.at = "0s"; // another file in the same place
        auto found = desk::findSound (open, *times, wish, console.progress());
        if (! found)
            return found.error();
        auto& fresh = found->sound;
        if (placed)
        {
            sound->place = fresh.place;
            sound->placed = fresh.placed;
            sound->cue = words.cue ? fresh.cue : sound->cue;
        }
        if (words.file)
        {
            sound->path = fresh.path;
            sound->identity = fresh.identity;
            sound->rate = fresh.rate;
            sound->channels = fresh.channels;
            sound->samples = fresh.samples;
            sound->timeReference = fresh.timeReference;
            sound->madeFor = fresh.madeFor;
        }
    }
    if (words.placed)
    {
        const auto by = spotting::parsePlacedBy (*words.placed);
        if (! by)
            return by.error();
        sound->placed = *by;
    }
    if (const auto laid = layFields (*sound, words); ! laid)
        return laid.error();
    return spotting::setSound (open.book, *sound);
}

Result<spotting::Book> removed (const desk::OpenBook& open, const std::vector<std::string>& names)
{
    std::vector<std::string> ids;
    for (const auto& name : names)
    {
        const auto sound = spotting::soundNamed (open.book, name);
        if (! sound)
            return sound.error();
        ids.push_back (sound->id);
    }
    return spotting::removeSounds (open.book, ids);
}
} // namespace

void addSounds (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<SoundWords>();
    auto* command = app.add_subcommand ("sounds", "Lists, adds, changes and removes the sounds that lie against the picture");
    command->footer ("Example: shutterbeat sounds film.shutterbeat add 1M1-mockup.wav --kind mock-up");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->require_subcommand (0, 1);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback (
        [words, command, &chosen]
        {
            if (command->get_subcommands().empty())
                chosen = [words] (const Console& console) { return listSounds (*words, console); };
        });

    auto* list = command->add_subcommand ("list", "Every sound with where it lies");
    list->footer ("Example: shutterbeat sounds film.shutterbeat list --final 25 --json");
    words->asked.addTo (*list);
    list->add_flag ("--json", words->json, "One JSON document on standard output");
    list->callback ([words, &chosen] { chosen = [words] (const Console& console) { return listSounds (*words, console); }; });

    auto* add = command->add_subcommand (
        "add", "Adds sound files, each placed as asked, by its WAV time stamp, or at the cue that its name says");
    add->footer ("Example: shutterbeat sounds film.shutterbeat add 1M2-strings.wav 1M2-horns.wav --kind stem --cue 1M2");
    add->add_option ("FILE", words->names, "Sound files: WAV, FLAC, MP3, AAC, the sound of a film ...")->required();
    words->addFieldsTo (*add);
    add->add_option ("--ltc", words->ltc, "Read linear timecode from this channel (1 is the first)");
    add->add_option ("--reel", words->reel, "Reel whose picture start it is counted from")->check (CLI::Range (1, 1000));
    add->add_option ("--person", words->person, "Whose sound it is: a short word")->capture_default_str();
    add->add_flag ("--json", words->json, "One JSON document on standard output");
    add->callback ([words, &chosen] { chosen = [words] (const Console& console) { return addFiles (*words, console); }; });

    auto* set = command->add_subcommand ("set", "Changes fields of a sound, or its file for another in the same place");
    set->footer ("Example: shutterbeat sounds film.shutterbeat set me-4 --gain -3 --at tc:01:00:10:00");
    set->add_option ("SOUND", words->names, "Id or name of a sound")->required()->expected (1);
    words->addFieldsTo (*set);
    set->add_option ("--file", words->file, "Another file, or where the same one has gone");
    set->add_option ("--ltc", words->ltc, "Place it by the linear timecode on this channel (1 is the first)");
    set->add_option ("--reel", words->reel, "Reel whose picture start it is counted from")->check (CLI::Range (1, 1000));
    set->add_option ("--placed", words->placed, "How its place is known: WAV time stamp, LTC, pop, name, by hand");
    set->callback (
        [words, &chosen]
        {
            chosen = [words] (const Console& console) {
                return editBook (console, words->book,
                                 [&] (const desk::OpenBook& open) { return changed (open, *words, console); });
            };
        });

    auto* remove = command->add_subcommand ("remove", "Takes sounds out of the book; their files stay");
    remove->footer ("Example: shutterbeat sounds film.shutterbeat remove me-4");
    remove->add_option ("SOUND", words->names, "Ids or names of sounds")->required();
    remove->callback (
        [words, &chosen]
        {
            chosen = [words] (const Console& console)
            { return editBook (console, words->book, [&] (const desk::OpenBook& open) { return removed (open, words->names); }); };
        });
}
} // namespace shutterbeat::cli
