#include "cli/Command.h"
#include "cli/RecutText.h"
#include "desk/Recut.h"
#include "desk/RecutFiles.h"
#include "desk/RecutListFiles.h"
#include "spotting/RecutEdit.h"

#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct RecutWords
{
    std::string book, name, from, to, decide, csv, oldList, newList, changeList, rate, counts;
    std::vector<std::string> files;
    bool json = false;

    [[nodiscard]] bool byLists() const { return ! oldList.empty() || ! newList.empty(); }
    /// A new edition is to be made.
    [[nodiscard]] bool makes() const { return ! files.empty() || byLists() || ! changeList.empty(); }
};

Result<desk::RecutMade> fromLists (const spotting::Book& book, const RecutWords& words, const std::string& from)
{
    if (words.oldList.empty() || words.newList.empty())
        return usageError ("lists", "give both --old-list and --new-list");
    auto rate = book.delivery.rate;
    if (! words.rate.empty())
    {
        const auto asked = time::parseRate (words.rate);
        if (! asked)
            return asked.error();
        rate = asked->value;
    }
    std::optional<desk::ListCounts> counts;
    if (! words.counts.empty())
    {
        const auto asked = desk::parseListCounts (words.counts);
        if (! asked)
            return asked.error();
        counts = *asked;
    }
    return desk::recutFromListFiles (book, from, words.oldList, words.newList, rate, counts);
}

/// The next edition, from whatever was given.
Result<desk::RecutMade> nextEdition (const desk::OpenBook& open, const RecutWords& words, const Console& console)
{
    if ((words.files.empty() ? 0 : 1) + (words.byLists() ? 1 : 0) + (words.changeList.empty() ? 0 : 1) > 1)
        return usageError ("recut", "give the files of the new film, or two lists, or a change list: one of these");
    const auto from = words.from.empty() ? open.book.edition : words.from;
    if (words.byLists())
        return fromLists (open.book, words, from);
    if (! words.changeList.empty())
        return desk::recutFromChangeFile (open.book, from, words.changeList);
    return desk::recut (open, words.files, words.name, words.from, console.progress());
}

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
    if (words.makes())
    {
        auto made = nextEdition (*open, words, console);
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
    if (words.makes())
        asked.to = open->book.edition;
    const auto letters = editionsOf (open->book, asked);
    if (! letters)
        return console.fail (letters.error());
    const auto carried = spotting::carry (open->book, letters->first, letters->second);
    if (! carried)
        return console.fail (carried.error());
    const auto rows = spotting::recutRows (*spotting::editionOf (open->book, letters->first),
                                           *spotting::editionOf (open->book, letters->second), carried->changes);
    const auto remedies = spotting::remediesOf (open->book, *carried);
    if (! remedies)
        return console.fail (remedies.error());
    if (changed)
        if (const auto saved = desk::saveBook (*open); ! saved)
            return console.fail (saved.error());
    if (! words.csv.empty())
        if (const auto written = desk::writeChangeList (words.csv, rows); ! written)
            return console.fail (written.error());
    const auto pending = spotting::pendingMatches (open->book);
    if (words.json)
        console.out << recutJson (*carried, rows, *remedies, pending).dump (2) << "\n";
    else
        printRecut (*carried, rows, *remedies, pending, console.out);
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
                     "          shutterbeat recut film.shutterbeat --old-list lock1.edl --new-list lock2.edl --rate 24\n"
                     "          shutterbeat recut film.shutterbeat --change-list changes.csv\n"
                     "The new cut becomes the next edition; the old one stays. Exit status 1: decisions are open.");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("FILE", words->files, "Files of the new print, the reels in order; none: only says what changed");
    command->add_option ("--old-list", words->oldList, "CMX3600 list or OTIO timeline of the old edition, with --new-list");
    command->add_option ("--new-list", words->newList, "The same of the new cut, instead of its files");
    command->add_option ("--rate", words->rate, "Rate of the CMX3600 lists, which don't say it; else the book's final rate");
    command->add_option ("--counts", words->counts,
                         "What a frame of the lists is: film, delivered or file; else whichever fits the old edition's length");
    command->add_option ("--change-list", words->changeList, "Change list as --csv writes it, instead of the new cut's files");
    command->add_option ("--name", words->name, "What the new print is called; else its first file's name");
    command->add_option ("--from", words->from, "Letter of the old edition; else the one worked on, or its parent");
    command->add_option ("--to", words->to, "Letter of the new edition, without files");
    command->add_option ("--decide", words->decide, "JSON file with decisions");
    command->add_option ("--csv", words->csv, "Writes the change list as comma-separated values");
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return recut (*words, console); }; });
}
} // namespace shutterbeat::cli
