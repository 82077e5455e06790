#include "cli/Command.h"
#include "cli/Table.h"
#include "desk/Compare.h"
#include "desk/CompareBooks.h"
#include "desk/Prints.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

struct CompareWords
{
    std::string book, one, two, earlier;
    std::vector<std::string> editions;
    bool json = false;
};

void printSentences (const char* head, const std::vector<std::string>& sentences, std::ostream& out)
{
    if (sentences.empty())
        return;
    out << head << "\n";
    for (const auto& sentence : sentences)
        out << "    " << oneLine (sentence) << "\n";
}

/// Two editions, or this book and an earlier state of it.
int compareStates (const CompareWords& words, const Console& console, const spotting::Book& now)
{
    auto before = now;
    if (! words.earlier.empty())
    {
        const auto opened = desk::openBook (words.earlier);
        if (! opened)
            return console.fail (opened.error());
        before = opened->book;
    }
    const auto one = words.editions.empty() ? before.edition : words.editions.front();
    const auto two = words.editions.empty() ? now.edition : words.editions.back();
    const auto difference = desk::compareBooks (before, one, now, two);
    if (! difference)
        return console.fail (difference.error());
    if (words.json)
        console.out << Json{
            { "before", one },
            { "after", two },
            { "decisions", difference->decisions },
            { "cards", difference->cards },
            { "sources", difference->sources },
            { "cues", difference->cues }
        }.dump (2) << "\n";
    else if (difference->none())
        console.out << "nothing has changed\n";
    else
    {
        printSentences ("hits and cues", difference->decisions, console.out);
        printSentences ("cards", difference->cards, console.out);
        printSentences ("where shots come from", difference->sources, console.out);
        printSentences ("what the film does to the cues", difference->cues, console.out);
    }
    return done;
}

Json shotsJson (const std::vector<desk::ComparedShot>& shots)
{
    Json all = Json::array();
    for (const auto& shot : shots)
        all.push_back ({ { "first", shot.first },
                         { "end", shot.end },
                         { "kind", std::string (film::shotKindName (shot.kind)) },
                         { "shared", shot.shared },
                         { "missing_there", shot.end - shot.first - shot.shared },
                         { "other_first", shot.otherFirst < 0 ? Json (nullptr) : Json (shot.otherFirst) },
                         { "other_shot", shot.otherShot < 0 ? Json (nullptr) : Json (shot.otherShot + 1) } });
    return all;
}

void printShots (const std::string& name, const std::string& other, const std::vector<desk::ComparedShot>& shots, std::ostream& out)
{
    std::vector<std::vector<std::string>> rows;
    int number = 0;
    for (const auto& shot : shots)
    {
        const auto frames = shot.end - shot.first;
        rows.push_back ({ std::to_string (++number), std::string (film::shotKindName (shot.kind)), std::to_string (shot.first),
                          std::to_string (frames), shot.otherShot < 0 ? "not there" : std::to_string (shot.otherShot + 1),
                          shot.otherFirst < 0 ? "" : std::to_string (shot.otherFirst),
                          frames == shot.shared ? "" : std::to_string (frames - shot.shared) });
    }
    out << "print " << name << "\n";
    printTable ({ { "shot", true },
                  { "kind" },
                  { "film frame", true },
                  { "frames", true },
                  { "in " + other, true },
                  { "from", true },
                  { "missing there", true } },
                rows, out);
}

int compare (const CompareWords& words, const Console& console)
{
    const auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    const bool states = ! words.earlier.empty() || ! words.editions.empty();
    if (states && ! words.one.empty())
        return console.fail (usageError ("compare", "name two prints, or --editions, or --since: one of these"));
    if (states)
        return compareStates (words, console, open->book);
    if (words.two.empty())
        return console.fail (usageError ("compare", "name two prints, or --editions A B, or --since EARLIER.shutterbeat"));
    const auto one = desk::printNamed (open->book, words.one), two = desk::printNamed (open->book, words.two);
    if (! one || ! two)
        return console.fail (one ? two.error() : one.error());
    const auto compared = desk::comparePrints (*open, *one, *two, console.progress());
    if (! compared)
        return console.fail (compared.error());
    if (words.json)
    {
        Json runs = Json::array();
        for (const auto& run : compared->runs)
            runs.push_back (
                { { "one", run.oldFirst }, { "two", run.newFirst }, { "frames", run.frames }, { "mirrored", run.mirrored } });
        console.out << Json{
            { "one", { { "print", *one }, { "shots", shotsJson (compared->one) } } },
            { "two", { { "print", *two }, { "shots", shotsJson (compared->two) } } },
            { "mirrored", compared->mirrored },
            { "runs", std::move (runs) }
        }.dump (2) << "\n";
        return done;
    }
    if (compared->mirrored)
        console.notes ({ "one print is seen from behind against the other: left and right are exchanged" });
    printShots (words.one, words.two, compared->one, console.out);
    console.out << "\n";
    printShots (words.two, words.one, compared->two, console.out);
    return done;
}
} // namespace

void addCompare (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<CompareWords>();
    auto* command = app.add_subcommand ("compare", "Two prints by their shots, two editions, or a book and an earlier state of it");
    command->footer ("Example: shutterbeat compare film.shutterbeat \"First print\" \"Second print\"\n"
                     "         shutterbeat compare film.shutterbeat --editions A B\n"
                     "         shutterbeat compare film.shutterbeat --since film-of-may.shutterbeat\n"
                     "Prints are added with: shutterbeat prints film.shutterbeat add NAME FILE...");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("PRINT", words->one, "A print, by name or id");
    command->add_option ("OTHER", words->two, "The other print");
    command
        ->add_option ("--editions", words->editions,
                      "Letters of two editions: what moved, which cards differ, what that does to each cue")
        ->expected (2);
    command->add_option ("--since", words->earlier,
                         "An earlier state of the book, kept as a file: what moved, is new, is gone, or is said otherwise");
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return compare (*words, console); }; });
}
} // namespace shutterbeat::cli
