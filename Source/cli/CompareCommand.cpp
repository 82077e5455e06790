#include "cli/Command.h"
#include "cli/Table.h"
#include "desk/Compare.h"
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
    std::string book, one, two;
    bool json = false;
};

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
    auto* command =
        app.add_subcommand ("compare", "Which shots each of two prints has, in which order, and what is missing in either");
    command->footer ("Example: shutterbeat compare film.shutterbeat \"First print\" \"Second print\"\n"
                     "Prints are added with: shutterbeat prints film.shutterbeat add NAME FILE...");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("PRINT", words->one, "A print, by name or id")->required();
    command->add_option ("OTHER", words->two, "The other print")->required();
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return compare (*words, console); }; });
}
} // namespace shutterbeat::cli
