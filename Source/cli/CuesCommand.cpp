#include "cli/Command.h"
#include "cli/TimesText.h"
#include "spotting/Edit.h"

#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct CueWords
{
    std::string book, person = "me";
    std::vector<std::string> ids;
    std::optional<std::string> in, out, number, title, kind, mood, status, version, tempo, note;
    bool json = false;
    AskedWords asked;

    void addFieldsTo (CLI::App& command)
    {
        const std::string places = "film:1000, tc:01:00:55:14, feet:62+08, edge:SHOT.head+0, -4.0s, end+2s";
        command.add_option ("--in", in, "Where it starts: " + places);
        command.add_option ("--out", out, "Where it has stopped (exclusive), the same forms");
        command.add_option ("--number", number, "Its number, such as 1M1");
        command.add_option ("--title", title, "Title");
        command.add_option ("--kind", kind, "music, tacet, seen music, effect");
        command.add_option ("--mood", mood, "Mood");
        command.add_option ("--status", status, "planned, written, mocked up, recorded, placed, approved");
        command.add_option ("--music-version", version, "Version of the music");
        command.add_option ("--tempo", tempo, "Beats a minute, exact: 96, 97.3, 1440/13");
        command.add_option ("--note", note, "Note");
    }
};

Result<film::Place> placeOf (const film::Timings& timings, const std::string& text)
{
    const auto typed = film::parsePlace (text);
    if (! typed)
        return typed.error();
    return timings.placeFor (*typed);
}

Result<spotting::Cue> withFields (const film::Timings& timings, spotting::Cue cue, const CueWords& words)
{
    if (words.in)
    {
        const auto place = placeOf (timings, *words.in);
        if (! place)
            return place.error();
        cue.in = *place;
    }
    if (words.out)
    {
        const auto place = placeOf (timings, *words.out);
        if (! place)
            return place.error();
        cue.out = *place;
    }
    if (words.kind)
    {
        const auto kind = spotting::parseCueKind (*words.kind);
        if (! kind)
            return kind.error();
        cue.kind = *kind;
    }
    if (words.status)
    {
        const auto status = spotting::parseCueStatus (*words.status);
        if (! status)
            return status.error();
        cue.status = *status;
    }
    if (words.tempo)
    {
        const auto tempo = time::parseRational (*words.tempo);
        if (! tempo)
            return tempo.error();
        const auto map = music::TempoMap::steady (*tempo);
        if (! map)
            return map.error();
        cue.tempo = *map;
    }
    cue.number = words.number.value_or (cue.number);
    cue.title = words.title.value_or (cue.title);
    cue.mood = words.mood.value_or (cue.mood);
    cue.version = words.version.value_or (cue.version);
    cue.note = words.note.value_or (cue.note);
    return cue;
}

int listCues (const CueWords& words, const Console& console)
{
    const auto timed = timedBook (console, words.book, words.asked);
    if (! timed)
        return console.fail (timed.error());
    const auto& times = timed->times;
    if (words.json)
        console.out << bookTimesJson (times)["cues"].dump (2) << "\n";
    else
        printCues (times, console.out);
    return done;
}

int addCue (const CueWords& words, const Console& console)
{
    std::string added;
    const int status = editBook (console, words.book,
                                 [&] (const desk::OpenBook& open) -> Result<spotting::Book>
                                 {
                                     const auto timings = spotting::timingsOf (open.book);
                                     if (! timings)
                                         return timings.error();
                                     auto cue = withFields (*timings, {}, words);
                                     if (! cue)
                                         return cue.error();
                                     if (cue->number.empty())
                                         cue->number = "1M" + std::to_string (open.book.cues.size() + 1);
                                     auto edited = spotting::addCue (open.book, words.person, std::move (*cue), *timings);
                                     if (! edited)
                                         return edited.error();
                                     added = edited->ids.front();
                                     return std::move (edited->book);
                                 });
    if (status != done)
        return status;
    if (words.json)
        console.out << Json{ { "added", { added } } }.dump (2) << "\n";
    else
        console.out << added << "\n";
    return status;
}

int setCue (const CueWords& words, const Console& console)
{
    return editBook (console, words.book,
                     [&] (const desk::OpenBook& open) -> Result<spotting::Book>
                     {
                         const auto timings = spotting::timingsOf (open.book);
                         if (! timings)
                             return timings.error();
                         const auto cue = spotting::cueNamed (open.book, words.ids.front());
                         if (! cue)
                             return cue.error();
                         const auto changed = withFields (*timings, *cue, words);
                         if (! changed)
                             return changed.error();
                         return spotting::setCue (open.book, *changed, *timings);
                     });
}

Result<spotting::Book> removeNamed (const desk::OpenBook& open, const std::vector<std::string>& names)
{
    std::vector<std::string> ids;
    for (const auto& name : names)
    {
        const auto cue = spotting::cueNamed (open.book, name);
        if (! cue)
            return cue.error();
        ids.push_back (cue->id);
    }
    return spotting::removeCues (open.book, ids);
}
} // namespace

void addCues (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<CueWords>();
    auto* command = app.add_subcommand ("cues", "Lists, adds, changes and removes cues");
    command->footer ("Example: shutterbeat cues film.shutterbeat add --number 1M1 --title \"The keeper wakes\" --in film:0 --out "
                     "edge:5.head+0 --tempo 96");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->require_subcommand (0, 1);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback (
        [words, command, &chosen]
        {
            if (command->get_subcommands().empty())
                chosen = [words] (const Console& console) { return listCues (*words, console); };
        });

    auto* list = command->add_subcommand ("list", "Every cue with its times");
    list->footer ("Example: shutterbeat cues film.shutterbeat list --final 25");
    words->asked.addTo (*list);
    list->add_flag ("--json", words->json, "One JSON document on standard output");
    list->callback ([words, &chosen] { chosen = [words] (const Console& console) { return listCues (*words, console); }; });

    auto* add = command->add_subcommand ("add", "Adds a cue");
    add->footer ("Example: shutterbeat cues film.shutterbeat add --number 1M2 --in edge:5.head+0 --out end --mood misterioso");
    words->addFieldsTo (*add);
    add->get_option ("--in")->required();
    add->get_option ("--out")->required();
    add->add_option ("--person", words->person, "Whose cue it is: a short word")->capture_default_str();
    add->add_flag ("--json", words->json, "One JSON document on standard output");
    add->callback ([words, &chosen] { chosen = [words] (const Console& console) { return addCue (*words, console); }; });

    auto* set = command->add_subcommand ("set", "Changes fields of a cue");
    set->footer ("Example: shutterbeat cues film.shutterbeat set 1M2 --status written --tempo 1440/13");
    set->add_option ("CUE", words->ids, "Id or number of a cue")->required()->expected (1);
    words->addFieldsTo (*set);
    set->callback ([words, &chosen] { chosen = [words] (const Console& console) { return setCue (*words, console); }; });

    auto* remove = command->add_subcommand ("remove", "Removes cues; their hits stay");
    remove->footer ("Example: shutterbeat cues film.shutterbeat remove 1M2");
    remove->add_option ("CUE", words->ids, "Ids or numbers of cues")->required();
    remove->callback (
        [words, &chosen]
        {
            chosen = [words] (const Console& console) {
                return editBook (console, words->book, [&] (const desk::OpenBook& open) { return removeNamed (open, words->ids); });
            };
        });
}
} // namespace shutterbeat::cli
