#include "cli/HandoverCommands.h"
#include "desk/Returned.h"
#include "spotting/SoundEdit.h"
#include "time/Clock.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

struct ReturnedWords
{
    std::string book, person = "me";
    std::vector<std::string> files;
    AskedWords asked;
    int reel = 1;
    bool add = false, json = false;
};

Json jsonOf (const desk::ReturnedFile& file, const spotting::Book& book)
{
    const auto* cue = spotting::cueOf (book, file.cue);
    auto signs = Json::array();
    for (const auto& sign : file.signs)
        signs.push_back ({ { "by", sign.by },
                           { "seconds", sign.seconds ? Json (time::secondsText (*sign.seconds, 3)) : Json (nullptr) },
                           { "cue", sign.cue },
                           { "said", sign.said } });
    return { { "file", file.path },
             { "midi", file.midi },
             { "cue", file.cue },
             { "number", cue != nullptr ? Json (cue->number) : Json (nullptr) },
             { "used", file.signs.empty() ? Json (nullptr) : Json (file.signs[0].by) },
             { "disagree", file.disagree },
             { "signs", signs },
             { "notes", file.notes } };
}

void print (const desk::ReturnedFile& file, const spotting::Book& book, const Console& console)
{
    const auto* cue = spotting::cueOf (book, file.cue);
    console.out << file.path << ": "
                << (cue != nullptr ? "cue " + cue->number + (cue->title.empty() ? "" : " " + cue->title)
                    : file.signs.empty()
                        ? std::string ("nothing says where it belongs; name it after its cue, or add it with sounds add --at")
                        : std::string ("no cue of its own"))
                << "\n";
    for (std::size_t i = 0; i < file.signs.size(); ++i)
        console.out << "  " << (i == 0 ? "used: " : "also: ") << file.signs[i].by << ", " << file.signs[i].said << "\n";
    for (const auto& note : file.notes)
        console.out << "  " << note << "\n";
}

int returned (const ReturnedWords& words, const Console& console)
{
    auto timed = timedBook (console, words.book, words.asked);
    if (! timed)
        return console.fail (timed.error());
    auto list = Json::array();
    std::vector<spotting::Sound> sounds;
    bool open = false;
    for (const auto& path : words.files)
    {
        const auto file =
            desk::matchReturned (timed->open, timed->times, path, static_cast<std::size_t> (words.reel) - 1, console.progress());
        if (! file)
            return console.fail (file.error());
        open = open || file->disagree || file->signs.empty();
        if (file->sound && ! file->disagree)
            sounds.push_back (*file->sound);
        list.push_back (jsonOf (*file, timed->open.book));
        if (! words.json)
            print (*file, timed->open.book, console);
    }
    if (words.add && ! sounds.empty())
    {
        auto edited = spotting::addSounds (timed->open.book, words.person, sounds);
        if (! edited)
            return console.fail (edited.error());
        timed->open.book = std::move (edited->book);
        if (const auto saved = desk::saveBook (timed->open); ! saved)
            return console.fail (saved.error());
    }
    if (words.json)
        console.out << Json{ { "added", words.add ? sounds.size() : 0 }, { "files", list } }.dump (2, ' ', false,
                                                                                                   Json::error_handler_t::replace)
                    << "\n";
    else if (words.add)
        console.out << sounds.size() << " sound(s) added\n";
    return open ? found : done;
}
} // namespace

void addReturned (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<ReturnedWords>();
    auto* command = app.add_subcommand ("returned", "Matches sounds and MIDI files that came back to their cues, and says by what");
    command->footer (
        "Looked for: linear timecode, WAV time stamp, sync pop, the cue's number in the name; of MIDI files a marker,\n"
        "SMPTE offset, name. Where there are two they are compared. Exit status 1: two disagree, or nothing was found.\n"
        "Example: shutterbeat returned film.shutterbeat 1M1-strings.wav 1M2.mid --add --person ida");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("FILE", words->files, "Sounds and MIDI files")->required();
    command->add_flag ("--add", words->add, "Add the sounds whose signs agree to the book");
    command->add_option ("--person", words->person, "Whose they are: a short word")->capture_default_str();
    command->add_option ("--reel", words->reel, "Reel of the edition they are of, from 1")
        ->check (CLI::Range (1, 1000))
        ->capture_default_str();
    words->asked.addTo (*command);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return returned (*words, console); }; });
}
} // namespace shutterbeat::cli
