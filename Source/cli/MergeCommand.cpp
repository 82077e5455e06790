#include "cli/HandoverCommands.h"
#include "desk/MergeBooks.h"
#include "time/Text.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

struct MergeWords
{
    std::string base, mine, theirs, output;
    std::vector<std::string> take;
    bool json = false;
};

Result<std::vector<spotting::MergeChoice>> choicesFrom (const MergeWords& words)
{
    std::vector<spotting::MergeChoice> choices;
    for (const auto& word : words.take)
    {
        const auto equals = word.rfind ('=');
        const auto side = equals == std::string::npos ? "" : word.substr (equals + 1);
        if (side != "mine" && side != "theirs")
            return usageError ("--take " + word, "is not understood; write it as anna-3.label=mine or anna-3.label=theirs");
        choices.push_back ({ word.substr (0, equals), side == "theirs" });
    }
    return choices;
}

void print (const MergeWords& words, const spotting::Merged& merged, const Console& console)
{
    for (const auto& sentence : merged.brought)
        console.out << "from theirs: " << sentence << "\n";
    for (const auto& sentence : merged.settled)
        console.out << "chosen: " << sentence << "\n";
    for (const auto& conflict : merged.conflicts)
        console.out << "conflict " << conflict.key << ": " << conflict.what << ", " << conflict.field << ": it was "
                    << conflict.base << ", mine is " << conflict.mine << ", theirs is " << conflict.theirs << "; "
                    << (conflict.tookTheirs ? "theirs" : "mine") << " is in the merged book\n";
    console.out << merged.brought.size() << " change(s) from theirs, " << merged.settled.size() << " chosen, "
                << merged.conflicts.size() << " conflict(s) open"
                << (words.output.empty() ? "; nothing was saved, give -o FILE" : "; saved as " + words.output) << "\n";
}

Json jsonOf (const MergeWords& words, const spotting::Merged& merged)
{
    auto conflicts = Json::array();
    for (const auto& conflict : merged.conflicts)
        conflicts.push_back ({ { "key", conflict.key },
                               { "what", conflict.what },
                               { "field", conflict.field },
                               { "base", conflict.base },
                               { "mine", conflict.mine },
                               { "theirs", conflict.theirs },
                               { "taken", conflict.tookTheirs ? "theirs" : "mine" } });
    return { { "saved", words.output },
             { "from_theirs", merged.brought },
             { "chosen", merged.settled },
             { "conflicts", conflicts },
             { "notes", merged.notes } };
}

int merge (const MergeWords& words, const Console& console)
{
    const auto choices = choicesFrom (words);
    if (! choices)
        return console.fail (choices.error());
    auto merged = desk::mergeBookFiles (words.base, words.mine, words.theirs, words.output, *choices);
    if (! merged)
        return console.fail (merged.error());
    if (! words.output.empty())
        if (const auto saved = desk::saveBook (merged->open); ! saved)
            return console.fail (saved.error());
    console.notes (merged->merged.notes);
    if (words.json)
        console.out << jsonOf (words, merged->merged).dump (2, ' ', false, Json::error_handler_t::replace) << "\n";
    else
        print (words, merged->merged, console);
    return merged->merged.conflicts.empty() ? done : found;
}
} // namespace

void addMerge (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<MergeWords>();
    auto* command = app.add_subcommand ("merge", "Merges two copies of a book that were both changed");
    command->footer (
        "Everything that one side added, changed or took away is in the merged book. What both changed to different values is a\n"
        "conflict: mine holds until --take says otherwise. Without -o it only shows what would happen.\n"
        "Exit status 1: conflicts are open.\n"
        "Example: shutterbeat merge sent.shutterbeat film.shutterbeat from-ida.shutterbeat -o merged.shutterbeat\n"
        "         shutterbeat merge sent.shutterbeat film.shutterbeat from-ida.shutterbeat -o merged.shutterbeat "
        "--take anna-3.label=theirs");
    command->add_option ("BASE", words->base, "The book as both had it")->required();
    command->add_option ("MINE", words->mine, "One copy")->required();
    command->add_option ("THEIRS", words->theirs, "The other copy")->required();
    command->add_option ("-o,--output", words->output, "Book to write; MINE itself is replaced when it is named");
    command->add_option ("--take", words->take, "How a conflict is settled: KEY=mine or KEY=theirs; may be given often");
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return merge (*words, console); }; });
}
} // namespace shutterbeat::cli
