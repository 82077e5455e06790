#include "cli/HandoverCommands.h"
#include "cli/Table.h"
#include "desk/Revisions.h"
#include "spotting/ParcelRows.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

struct RevisionWords
{
    std::string book, name, stamped, since, until;
    bool json = false;
};

std::string jsonText (const Json& json)
{
    return json.dump (2, ' ', false, Json::error_handler_t::replace) + "\n";
}

int listed (const RevisionWords& words, const desk::OpenBook& open, const Console& console)
{
    const auto revisions = desk::revisionsIn (open);
    if (! revisions)
        return console.fail (revisions.error());
    const auto now = desk::revisionText (open.book);
    std::vector<std::vector<std::string>> rows;
    auto list = Json::array();
    for (const auto& revision : *revisions)
    {
        const auto& kept = revision.kept;
        const auto delivered = time::rateName (kept.delivery.rate) + ", " + film::fillName (kept.delivery.from);
        rows.push_back ({ revision.name, revision.stamped, kept.edition, delivered, std::to_string (kept.rows.size()) });
        list.push_back ({ { "name", revision.name },
                          { "stamped", revision.stamped },
                          { "edition", kept.edition },
                          { "final_rate", time::rateName (kept.delivery.rate) },
                          { "fill", film::fillName (kept.delivery.from) },
                          { "cues_and_hits", kept.rows.size() } });
    }
    if (words.json)
        console.out << jsonText ({ { "now", now }, { "revisions", list } });
    else
    {
        printTable ({ { "revision" }, { "date" }, { "edition" }, { "delivered" }, { "cues and hits", true } }, rows, console.out);
        console.out << (now.empty() ? "no state of this book has a name yet" : "now: " + oneLine (now)) << "\n";
    }
    return done;
}

int revisions (const RevisionWords& words, const Console& console)
{
    auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    if (! words.name.empty())
    {
        auto named = desk::withRevision (*open, words.name, words.stamped);
        if (! named)
            return console.fail (named.error());
        open->book = std::move (*named);
        if (const auto saved = desk::saveBook (*open); ! saved)
            return console.fail (saved.error());
        return listed (words, *open, console);
    }
    if (words.since.empty())
        return listed (words, *open, console);
    const auto changes = desk::changesOfRevisions (*open, words.since, words.until);
    if (! changes)
        return console.fail (changes.error());
    if (words.json)
        console.out << jsonText ({ { "since", words.since }, { "until", words.until }, { "changes", *changes } });
    else
    {
        for (const auto& change : *changes)
            console.out << oneLine (change) << "\n";
        if (changes->empty())
            console.out << "no cue and no hit changed\n";
    }
    return done;
}
} // namespace

void addRevisions (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<RevisionWords>();
    auto* command = app.add_subcommand ("revisions", "Names the state of a book, and says what changed since one that has a name");
    command->footer ("Lists, sheets and files are stamped with the last revision, and say when the book was changed since.\n"
                     "Without options it lists them.\n"
                     "Example: shutterbeat revisions film.shutterbeat --name \"after the session\" --stamped 2026-05-01\n"
                     "         shutterbeat revisions film.shutterbeat --since \"after the session\"");
    command->add_option ("BOOK", words->book, "Book")->required();
    auto* name = command->add_option ("--name", words->name, "Name for the book as it is now");
    command->add_option ("--stamped", words->stamped, "Date kept with the name: 2026-05-01")->needs (name);
    auto* since = command->add_option ("--since", words->since, "Revision to begin from")->excludes (name);
    command->add_option ("--until", words->until, "Revision to compare it with; else the book as it is")->needs (since);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return revisions (*words, console); }; });
}
} // namespace shutterbeat::cli
