#include "cli/Command.h"
#include "cli/TimesText.h"
#include "desk/Export.h"

#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct TimesWords
{
    std::string book;
    AskedWords asked;
    bool csv = false, json = false;
};

int printTimes (const TimesWords& words, const Console& console)
{
    const auto timed = timedBook (console, words.book, words.asked);
    if (! timed)
        return console.fail (timed.error());
    const auto& times = timed->times;
    sayMissingFilms (console, timed->open);
    if (words.csv)
        console.out << desk::hitListText (times);
    else if (words.json)
        console.out << bookTimesJson (times).dump (2) << "\n";
    else
    {
        const auto& timings = times.timings;
        console.out << timed->open.book.title << ", edition " << timings.edition().letter << ": " << spotting::basisText (timings)
                    << "\n";
        for (std::size_t r = 0; r < timings.reelCount(); ++r)
            console.out << (timings.reelCount() > 1 ? "reel " + std::to_string (r + 1) + ": " : "")
                        << spotting::reelText (timings, r) << "\n";
        console.out << "\n";
        printCues (times, console.out);
        console.out << "\n";
        printHits (times, console.out);
    }
    return done;
}
} // namespace

void addTimes (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<TimesWords>();
    auto* command = app.add_subcommand ("times", "Every hit and cue in film frame, delivered frame, timecode, clock and feet");
    command->footer ("Example: shutterbeat times film.shutterbeat --final 29.97df --fill from:30 --json");
    command->add_option ("BOOK", words->book, "Book")->required();
    words->asked.addTo (*command);
    auto* csv = command->add_flag ("--csv", words->csv, "The hit list as CSV on standard output");
    command->add_flag ("--json", words->json, "One JSON document on standard output")->excludes (csv);
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return printTimes (*words, console); }; });
}
} // namespace shutterbeat::cli
