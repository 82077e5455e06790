#include "cli/Command.h"
#include "cli/LineUpText.h"

#include <algorithm>
#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct LineUpWords
{
    std::string book, sound;
    std::vector<std::string> deliveries;
    double bias = 0;
    bool grid = false, recut = false, json = false;
    AskedWords asked;
};

int compare (const LineUpWords& words, const Console& console, const TimedBook& timed)
{
    const auto sounds = desk::soundsMeant (timed.open.book, words.sound);
    if (! sounds)
        return console.fail (sounds.error());
    std::vector<desk::DeliveryColumn> columns = desk::usualDeliveries();
    if (! words.deliveries.empty())
        columns.clear();
    for (const auto& text : words.deliveries)
    {
        auto column = desk::parseDelivery (text);
        if (! column)
            return console.fail (column.error());
        columns.push_back (std::move (*column));
    }
    Json list = Json::array();
    bool foundSome = false;
    for (const auto& sound : *sounds)
    {
        const auto lined = desk::lineUp (timed.open, timed.times, sound, { words.bias }, console.progress());
        if (! lined)
            return console.fail (lined.error());
        console.notes (lined->notes);
        foundSome = foundSome || lined->found;
        if (words.grid)
        {
            const auto grid = desk::deliveryGrid (timed.open, timed.times, *lined, columns);
            if (! grid)
                return console.fail (grid.error());
            if (words.json)
            {
                auto json = gridJson (timed.times, *grid);
                json["sound"] = sound.id;
                list.push_back (std::move (json));
            }
            else
            {
                console.out << sound.name << "\n";
                printGrid (timed.times, *grid, console.out);
            }
        }
        else if (words.json)
            list.push_back (lineUpJson (timed.times, *lined));
        else
            printLineUp (timed.times, *lined, console.out);
    }
    if (words.json)
        console.out << list.dump (2) << "\n";
    return foundSome && ! words.grid ? found : done;
}

int stands (const LineUpWords& words, const Console& console, const TimedBook& timed)
{
    const auto rows = desk::soundStands (timed.open.book);
    if (! rows)
        return console.fail (rows.error());
    if (words.json)
        console.out << standsJson (*rows).dump (2) << "\n";
    else
        printStands (*rows, console.out);
    const bool all = std::all_of (rows->begin(), rows->end(), [] (const auto& row) { return row.stand == desk::Stand::stands; });
    return all ? done : found;
}

int lineUp (const LineUpWords& words, const Console& console)
{
    const auto timed = timedBook (console, words.book, words.asked);
    if (! timed)
        return console.fail (timed.error());
    if (words.recut)
        return stands (words, console, *timed);
    if (words.sound.empty())
        return console.fail (usageError ("lineup", "name a sound or a cue, or give --recut for all sounds after a recut"));
    return compare (words, console, *timed);
}
} // namespace

void addLineUp (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<LineUpWords>();
    auto* command =
        app.add_subcommand ("lineup", "Whether recorded music lands on the hits: what is wrong with the whole, then every hit");
    command->footer (
        "Example: shutterbeat lineup film.shutterbeat 1M2\n"
        "Example: shutterbeat lineup film.shutterbeat me-4 --deliveries 24 25 25:from:24 live:18\n"
        "Example: shutterbeat lineup film.shutterbeat --recut\n"
        "Late is above zero, early below. Exit status 1: something is the matter with the sound, a hit lies beyond its "
        "limits, or after a recut a sound does not stand.");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("SOUND", words->sound, "Id or name of a sound, or id or number of a cue for all its sounds");
    command->add_option ("--bias", words->bias, "Milliseconds by which these players' accents are known to begin late")
        ->check (CLI::Range (-200.0, 200.0));
    command->add_flag ("--grid", words->grid, "This one performance against every delivery: each must-hit late or early there");
    auto* deliveries = command->add_option ("--deliveries", words->deliveries,
                                            "The grid with these: 24, 25 (true), 25:from:24 (frame for frame), live:18, live:book");
    auto* recut =
        command->add_flag ("--recut", words->recut, "All sounds after a recut: which stand, need an edit, are played again");
    recut->excludes (deliveries);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    words->asked.addTo (*command);
    command->callback (
        [words, &chosen]
        {
            words->grid = words->grid || ! words->deliveries.empty();
            chosen = [words] (const Console& console) { return lineUp (*words, console); };
        });
}
} // namespace shutterbeat::cli
