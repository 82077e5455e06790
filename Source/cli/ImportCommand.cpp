#include "cli/Command.h"
#include "desk/Import.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct ImportWords
{
    std::string book, format, file, person = "me";
    AskedWords asked;
    int reel = 1;
    bool dryRun = false, json = false;
};

const char* kindName (desk::ImportChange::Kind kind)
{
    using Kind = desk::ImportChange::Kind;
    return kind == Kind::added ? "new" : kind == Kind::changed ? "changed" : kind == Kind::merged ? "merged" : "same";
}

void print (const ImportWords& words, const desk::ImportPlan& plan, const Console& console)
{
    using Kind = desk::ImportChange::Kind;
    if (words.json)
    {
        auto changes = nlohmann::ordered_json::array(), bad = nlohmann::ordered_json::array();
        for (const auto& change : plan.changes)
            changes.push_back ({ { "kind", kindName (change.kind) }, { "line", change.line }, { "what", change.what } });
        for (const auto& line : plan.bad)
            bad.push_back ({ { "line", line.line }, { "why", line.why } });
        auto conflicts = nlohmann::ordered_json::array();
        for (const auto& conflict : plan.conflicts)
            conflicts.push_back ({ { "key", conflict.key },
                                   { "what", conflict.what },
                                   { "field", conflict.field },
                                   { "mine", conflict.mine },
                                   { "theirs", conflict.theirs } });
        console.out << nlohmann::ordered_json{ { "saved", ! words.dryRun && plan.count (Kind::same) < plan.changes.size() },
                                               { "changes", changes },
                                               { "bad", bad },
                                               { "conflicts", conflicts },
                                               { "notes", plan.notes } }
                           .dump (2, ' ', false, nlohmann::ordered_json::error_handler_t::replace)
                    << "\n";
        return;
    }
    for (const auto& change : plan.changes)
        if (change.kind != Kind::same)
            console.out << kindName (change.kind) << (change.line > 0 ? ", line " + std::to_string (change.line) : "") << ": "
                        << change.what << "\n";
    for (const auto& line : plan.bad)
        console.out << "left out" << (line.line > 0 ? ", line " + std::to_string (line.line) : "") << ": " << line.why << "\n";
    for (const auto& conflict : plan.conflicts)
        console.out << "conflict " << conflict.key << ": " << conflict.what << ", " << conflict.field << ": mine is "
                    << conflict.mine << " and holds, theirs is " << conflict.theirs << "\n";
    console.out << plan.count (Kind::added) << " new, " << plan.count (Kind::changed) << " changed, " << plan.count (Kind::merged)
                << " merged, " << plan.count (Kind::same) << " as they were, " << plan.bad.size() << " lines left out"
                << (words.dryRun ? "; nothing was saved" : "") << "\n";
}

int makeImport (const ImportWords& words, const Console& console)
{
    std::vector<std::string> notes;
    const auto asked = words.asked.read (notes);
    if (! asked)
        return console.fail (asked.error());
    if (words.reel < 1)
        return console.fail (usageError ("reel " + std::to_string (words.reel), "is none; reels are counted from 1"));
    auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    const auto plan =
        desk::planImportFile (*open, words.format, words.file, { words.person, *asked, static_cast<std::size_t> (words.reel) - 1 });
    console.notes (notes);
    if (! plan)
        return console.fail (plan.error());
    if (! words.dryRun && ! (plan->book == open->book))
    {
        open->book = plan->book;
        if (const auto saved = desk::saveBook (*open); ! saved)
            return console.fail (saved.error());
    }
    console.notes (plan->notes);
    print (words, *plan, console);
    return plan->bad.empty() && plan->conflicts.empty() ? done : found;
}
} // namespace

void addImport (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<ImportWords>();
    auto* command = app.add_subcommand ("import", "Reads hits, cues or wordings of a file into the book, as one step");
    std::string formats;
    for (const auto& format : desk::importFormats())
        formats += "\n  " + format.name + ": " + format.what;
    command->footer (
        "Formats:" + formats
        + "\nNothing is overwritten unsaid: what has an id of the book changes it and is listed, a new hit at the place of "
          "another joins it with both names. Exit status 1: lines were left out, or a reply says otherwise than the book.\n"
          "Example: shutterbeat import film.shutterbeat csv hits-from-ida.csv --person ida --dry-run");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("FORMAT", words->format, "One of the formats below")->required();
    command->add_option ("FILE", words->file, "File to read")->required();
    command->add_option ("--person", words->person, "Whose hits and cues the new ones are: a short word")->capture_default_str();
    command->add_option ("--reel", words->reel, "Reel that the file is of, where it does not say")->capture_default_str();
    command->add_flag ("--dry-run", words->dryRun, "Only show what would change");
    words->asked.addTo (*command);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return makeImport (*words, console); }; });
}
} // namespace shutterbeat::cli
