#include "cli/Command.h"
#include "cli/Table.h"
#include "desk/Prints.h"
#include "spotting/ShotEdit.h"
#include "time/Clock.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

struct ShotWords
{
    std::string book, at, print, person = "me", edition;
    std::vector<std::string> shots;
    std::int64_t frames = 0;
    std::optional<double> threshold;
    std::optional<std::string> kind, name, wording, speed, reason;
    bool lock = false, unlock = false, remade = false, notRemade = false, json = false;
    AskedWords asked;
};

int listShots (const ShotWords& words, const Console& console)
{
    const auto timed = timedBook (console, words.book, words.asked);
    if (! timed)
        return console.fail (timed.error());
    const auto& timings = timed->times.timings;
    const auto& edition = timings.edition();
    Json all = Json::array();
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < edition.shots.size(); ++i)
    {
        const auto& shot = edition.shots[i];
        const auto times = timings.times (timings.shotHead (i));
        const auto speed = film::speedOf (edition, shot);
        if (words.json)
        {
            Json json{ { "id", shot.id },
                       { "name", shot.name },
                       { "kind", std::string (film::shotKindName (shot.kind)) },
                       { "film_frame", times.filmFrame },
                       { "frames", shot.frames() },
                       { "delivered_frame", times.delivered },
                       { "timecode", times.timecode },
                       { "clock", time::clockText (times.clock) },
                       { "feet", times.feet },
                       { "running_speed", time::fractionText (speed) },
                       { "strength", shot.strength },
                       { "locked", shot.locked },
                       { "wording", shot.wording },
                       { "making", std::string (shot.making()) },
                       { "reason", shot.reason } };
            if (shot.made)
                json["made_seconds"] = time::fractionText (*shot.made);
            else
            {
                json["print"] = shot.print;
                json["first"] = shot.first;
                json["end"] = shot.end;
            }
            all.push_back (std::move (json));
            continue;
        }
        rows.push_back ({ shot.name, std::string (film::shotKindName (shot.kind)), std::to_string (times.filmFrame),
                          shot.made ? time::clockText (*shot.made) + " s" : std::to_string (shot.frames()), times.timecode,
                          times.feet, time::speedText (speed) + (shot.speed ? " its own" : ""), shot.id,
                          shot.locked ? "locked" : "", std::string (shot.making()), oneLine (shot.reason),
                          oneLine (shot.wording) });
    }
    if (words.json)
        console.out << all.dump (2) << "\n";
    else
        printTable ({ { "shot" },
                      { "kind" },
                      { "film frame", true },
                      { "frames", true },
                      { "timecode" },
                      { "feet", true },
                      { "speed" },
                      { "id" },
                      { "" },
                      { "made" },
                      { "reason" },
                      { "wording" } },
                    rows, console.out);
    return done;
}

/// The edition a correction speaks of.
Result<const film::Edition*> editionFor (const spotting::Book& book, const ShotWords& words)
{
    const auto letter = words.edition.empty() ? book.edition : words.edition;
    const auto* edition = spotting::editionOf (book, letter);
    if (edition == nullptr)
        return usageError ("edition " + letter, "the book does not have it");
    return edition;
}

Result<spotting::Book> split (const desk::OpenBook& open, const ShotWords& words)
{
    spotting::Asked asked;
    if (! words.edition.empty())
        asked.edition = words.edition;
    const auto timings = spotting::timingsOf (open.book, asked);
    if (! timings)
        return timings.error();
    const auto typed = film::parsePlace (words.at);
    if (! typed)
        return typed.error();
    const auto position = timings->find (*typed);
    if (! position)
        return position.error();
    const auto times = timings->times (*position);
    if (position->where != film::Position::Where::picture || ! times.sourceFrame)
        return usageError (words.at, "is no photographed picture, so no cut can be there");
    const auto& shot = timings->edition().shots[position->shot];
    auto edited = spotting::splitShot (open.book, words.person, shot.print, *times.sourceFrame);
    if (! edited)
        return edited.error();
    return std::move (edited->book);
}

Result<spotting::Book> joined (const desk::OpenBook& open, const ShotWords& words)
{
    const auto edition = editionFor (open.book, words);
    if (! edition)
        return edition.error();
    const auto id = spotting::shotNamed (**edition, words.shots.front());
    if (! id)
        return id.error();
    return spotting::joinShot (open.book, (*edition)->letter, *id);
}

Result<spotting::Book> moved (const desk::OpenBook& open, const ShotWords& words)
{
    const auto edition = editionFor (open.book, words);
    if (! edition)
        return edition.error();
    const auto id = spotting::shotNamed (**edition, words.shots.front());
    if (! id)
        return id.error();
    return spotting::moveCut (open.book, (*edition)->letter, *id, words.frames);
}

Result<spotting::Book> changed (const desk::OpenBook& open, const ShotWords& words, const Console& console)
{
    const auto edition = editionFor (open.book, words);
    if (! edition)
        return edition.error();
    std::vector<std::string> ids;
    for (const auto& named : words.shots)
    {
        const auto id = spotting::shotNamed (**edition, named);
        if (! id)
            return id.error();
        ids.push_back (*id);
    }
    spotting::ShotWords said;
    if (words.kind)
    {
        said.kind = film::shotKindNamed (*words.kind);
        if (! said.kind)
            return usageError ("--kind " + *words.kind, "a shot is a shot, a card or black");
    }
    said.name = words.name;
    said.wording = words.wording;
    if (words.speed && *words.speed == "edition")
        said.speed = std::optional<time::Rational>();
    else if (words.speed)
    {
        const auto speed = time::parseSpeed (*words.speed);
        if (! speed)
            return speed.error();
        if (! speed->note.empty())
            console.notes ({ speed->note });
        said.speed = std::optional (speed->value);
    }
    if (words.lock || words.unlock)
        said.locked = words.lock;
    if (words.remade || words.notRemade)
        said.remade = words.remade;
    said.reason = words.reason;
    return spotting::setShots (open.book, (*edition)->letter, ids, said);
}

Result<spotting::Book> scanned (const desk::OpenBook& open, const ShotWords& words, const Console& console)
{
    if (open.book.prints.empty())
        return usageError (open.path, "the book has no print");
    const auto print =
        words.print.empty() ? Result<std::string> (open.book.prints[0].id) : desk::printNamed (open.book, words.print);
    if (! print)
        return print.error();
    auto again = desk::scanAgain (open, *print, words.threshold, console.progress());
    if (! again)
        return again.error();
    console.notes (again->notes);
    return std::move (again->book);
}
} // namespace

void addShots (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<ShotWords>();
    auto* command = app.add_subcommand ("shots", "Lists the shots of an edition and corrects what the scan found");
    command->footer ("Example: shutterbeat shots film.shutterbeat split --at tc:01:00:12:07");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->require_subcommand (0, 1);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    const auto listing = [words, &chosen] { chosen = [words] (const Console& console) { return listShots (*words, console); }; };
    command->callback (
        [command, listing]
        {
            if (command->get_subcommands().empty())
                listing();
        });
    auto* list = command->add_subcommand ("list", "Every shot with its place, length and running speed");
    list->footer ("Example: shutterbeat shots film.shutterbeat list --edition B");
    words->asked.addTo (*list);
    list->add_flag ("--json", words->json, "One JSON document on standard output");
    list->callback (listing);

    using Edit = std::function<Result<spotting::Book> (const desk::OpenBook&, const Console&)>;
    const auto verb = [&] (const std::string& name, const std::string& says, const std::string& example, Edit edit)
    {
        auto* sub = command->add_subcommand (name, says);
        sub->footer ("Example: shutterbeat shots film.shutterbeat " + example);
        sub->callback (
            [words, &chosen, edit = std::move (edit)]
            {
                chosen = [words, edit] (const Console& console)
                { return editBook (console, words->book, [&] (const desk::OpenBook& open) { return edit (open, console); }); };
            });
        return sub;
    };
    const auto ofEdition = [&] (CLI::App* sub)
    { sub->add_option ("--edition", words->edition, "Letter of the edition; else the one worked on"); };

    auto* cut = verb ("split", "Cuts a shot in two: a picture begins a shot of its own", "split --at film:1204",
                      [words] (const auto& open, const auto&) { return split (open, *words); });
    cut->add_option ("--at", words->at, "The first picture of the new shot: film:1000, tc:01:00:55:14, file:1389 ...")->required();
    cut->add_option ("--person", words->person, "Who says so: a short word")->capture_default_str();
    ofEdition (cut);
    auto* join = verb ("join", "Joins a shot to the one before it: there is no cut between them", "join 12",
                       [words] (const auto& open, const auto&) { return joined (open, *words); });
    join->add_option ("SHOT", words->shots, "The later of the two, by name or id")->required()->expected (1);
    ofEdition (join);
    auto* move = verb ("move", "Moves the cut at a shot's head", "move 12 --by -2",
                       [words] (const auto& open, const auto&) { return moved (open, *words); });
    move->add_option ("SHOT", words->shots, "The shot that begins at the cut, by name or id")->required()->expected (1);
    move->add_option ("--by", words->frames, "Film frames: later above zero, earlier below")->required();
    ofEdition (move);
    auto* set = verb ("set", "Says what shots are, at which speed they run, and why they are from where they are",
                      "set 12 --remade --reason \"retranslated; the old card misses a line\"",
                      [words] (const auto& open, const Console& console) { return changed (open, *words, console); });
    set->add_option ("SHOT", words->shots, "Shots, by name or id")->required();
    set->add_option ("--kind", words->kind, "shot, card or black");
    set->add_option ("--name", words->name, "Another name");
    set->add_option ("--wording", words->wording, "What a card says");
    set->add_option ("--speed", words->speed, "Running speed of its own: 16, 200/11, 80ft/min; or edition: the edition's");
    set->add_flag ("--lock", words->lock, "A new scan leaves them as they are");
    set->add_flag ("--unlock", words->unlock, "A new scan may change them");
    set->add_flag ("--remade", words->remade, "In this edition it takes the place of one that was otherwise");
    set->add_flag ("--not-remade", words->notRemade, "It does not");
    set->add_option ("--reason", words->reason, "Why it was made, remade or taken from this print; stands on the source list");
    set->get_option ("--remade")->excludes (set->get_option ("--not-remade"));
    set->get_option ("--lock")->excludes (set->get_option ("--unlock"));
    ofEdition (set);
    auto* scan = verb ("scan", "Scans a print again; shots that a person has touched stay as they are", "scan --threshold 0.2",
                       [words] (const auto& open, const Console& console) { return scanned (open, *words, console); });
    scan->add_option ("--print", words->print, "Which print, by name or id; else the first");
    scan->add_option ("--threshold", words->threshold, "0 to 1: changes at least this strong are cuts")
        ->check (CLI::Range (0.0, 1.0));
}
} // namespace shutterbeat::cli
