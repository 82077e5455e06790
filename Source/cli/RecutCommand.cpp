#include "cli/Command.h"
#include "cli/RecutText.h"
#include "desk/Recut.h"
#include "desk/RecutFiles.h"
#include "spotting/RecutEdit.h"

#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct RecutWords
{
    std::string book, name, from, to, decide, csv;
    std::vector<std::string> files;
    bool json = false;
};

/// The editions to compare: as asked, else the one worked on and its parent.
Result<std::pair<std::string, std::string>> editionsOf (const spotting::Book& book, const RecutWords& words)
{
    const auto after = words.to.empty() ? book.edition : words.to;
    const auto* edition = spotting::editionOf (book, after);
    if (edition == nullptr)
        return usageError ("edition " + after, "the book does not have it");
    const auto before = words.from.empty() ? edition->parent : words.from;
    if (before.empty())
        return usageError (
            "edition " + after,
            "is the first: there is none to compare it with. Name the files of a new print to make the next edition");
    return std::pair (before, after);
}

int recut (const RecutWords& words, const Console& console)
{
    auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    bool changed = false;
    if (! words.files.empty())
    {
        auto made = desk::recut (*open, words.files, words.name, words.from, console.progress());
        if (! made)
            return console.fail (made.error());
        console.notes (made->notes);
        open->book = std::move (made->book);
        changed = true;
    }
    if (! words.decide.empty())
    {
        const auto decisions = desk::readDecisions (words.decide);
        if (! decisions)
            return console.fail (decisions.error());
        auto settled = spotting::settle (open->book, *decisions);
        if (! settled)
            return console.fail (settled.error());
        open->book = std::move (*settled);
        changed = true;
    }
    auto asked = words;
    if (! words.files.empty())
        asked.to = open->book.edition;
    const auto letters = editionsOf (open->book, asked);
    if (! letters)
        return console.fail (letters.error());
    const auto carried = spotting::carry (open->book, letters->first, letters->second);
    if (! carried)
        return console.fail (carried.error());
    const auto rows = spotting::recutRows (*spotting::editionOf (open->book, letters->first),
                                           *spotting::editionOf (open->book, letters->second), carried->changes);
    if (changed)
        if (const auto saved = desk::saveBook (*open); ! saved)
            return console.fail (saved.error());
    if (! words.csv.empty())
        if (const auto written = desk::writeText (words.csv, recutCsv (rows)); ! written)
            return console.fail (written.error());
    const auto pending = spotting::pendingMatches (open->book);
    if (words.json)
        console.out << recutJson (*carried, rows, pending).dump (2) << "\n";
    else
        printRecut (*carried, rows, pending, console.out);
    if (! pending.empty())
        console.notes ({ std::to_string (pending.size()) + " match(es) wait for a decision; settle them with: shutterbeat recut "
                         + words.book + " --decide FILE.json, where FILE.json holds {\"decisions\": [{\"match\": \""
                         + pending.front().id + "\", \"answer\": \"same\" or \"other\", \"moved\": film frames}]}" });
    return pending.empty() ? done : found;
}
} // namespace

void addRecut (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<RecutWords>();
    auto* command = app.add_subcommand ("recut", "Finds a film again in another print or cut, and carries hits and cues there");
    command->footer ("Examples: shutterbeat recut film.shutterbeat new-reel1.mp4 new-reel2.mp4\n"
                     "          shutterbeat recut film.shutterbeat            (what changed, what is to be decided)\n"
                     "          shutterbeat recut film.shutterbeat --decide answers.json\n"
                     "The new files become the next edition; the old one stays. Exit status 1: decisions are open.");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("FILE", words->files, "Files of the new print, the reels in order; none: only says what changed");
    command->add_option ("--name", words->name, "What the new print is called; else its first file's name");
    command->add_option ("--from", words->from, "Letter of the old edition; else the one worked on, or its parent");
    command->add_option ("--to", words->to, "Letter of the new edition, without files");
    command->add_option ("--decide", words->decide, "JSON file with decisions");
    command->add_option ("--csv", words->csv, "Writes the change list as comma-separated values");
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return recut (*words, console); }; });
}
} // namespace shutterbeat::cli
