#include "cli/Command.h"
#include "desk/Prints.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

struct PrintWords
{
    std::string book, name, gauge = "35 mm";
    std::vector<std::string> files;
    bool json = false;
};

int listPrints (const PrintWords& words, const Console& console)
{
    const auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    sayMissingFilms (console, *open);
    Json all = Json::array();
    for (const auto& print : open->book.prints)
    {
        std::vector<std::string> editions;
        for (const auto& edition : open->book.editions)
            if (std::any_of (edition.shots.begin(), edition.shots.end(),
                             [&] (const auto& shot) { return ! shot.made && shot.print == print.id; }))
                editions.push_back (edition.letter);
        Json reels = Json::array();
        for (const auto& reel : print.reels)
            reels.push_back ({ { "file", desk::filmPath (*open, reel) },
                               { "file_frames", reel.cadence.fileFrames() },
                               { "film_frames", reel.cadence.filmFrames() },
                               { "rate", time::fractionText (reel.rate) },
                               { "cadence", reel.cadenceSaid } });
        all.push_back ({ { "id", print.id },
                         { "name", print.name },
                         { "gauge", print.gauge.name },
                         { "film_frames", film::filmFramesOf (print) },
                         { "scanned_shots", print.scanned.size() },
                         { "editions", editions },
                         { "reels", std::move (reels) } });
        if (words.json)
            continue;
        console.out << print.id << "  " << print.name << ", " << print.gauge.name << ", " << film::filmFramesOf (print)
                    << " film frames";
        std::string used;
        for (const auto& letter : editions)
            used += (used.empty() ? ", in edition " : ", ") + letter;
        console.out << (used.empty() ? ", in no edition" : used) << "\n";
        for (const auto& reel : print.reels)
            console.out << "    " << desk::filmPath (*open, reel) << ": " << reel.cadence.fileFrames() << " frames, "
                        << reel.cadenceSaid << "\n";
    }
    if (words.json)
        console.out << all.dump (2) << "\n";
    return done;
}

int addPrint (const PrintWords& words, const Console& console)
{
    const auto gauge = time::parseGauge (words.gauge);
    if (! gauge)
        return console.fail (gauge.error());
    std::string added;
    const int status = editBook (console, words.book,
                                 [&] (const desk::OpenBook& open) -> Result<spotting::Book>
                                 {
                                     auto changed = desk::addPrint (open, words.name, words.files, *gauge, console.progress());
                                     if (! changed)
                                         return changed.error();
                                     console.notes (changed->notes);
                                     added = changed->print;
                                     return std::move (changed->book);
                                 });
    if (status != done)
        return status;
    if (words.json)
        console.out << Json{ { "added", { added } } }.dump (2) << "\n";
    else
        console.out << added << "\n";
    return status;
}
} // namespace

void addPrints (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<PrintWords>();
    auto* command = app.add_subcommand ("prints", "Lists the prints of a film and adds others");
    command->footer ("Example: shutterbeat prints film.shutterbeat add \"Second print\" reel1.mp4 reel2.mp4");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->require_subcommand (0, 1);
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    const auto listing = [words, &chosen] { chosen = [words] (const Console& console) { return listPrints (*words, console); }; };
    command->callback (
        [command, listing]
        {
            if (command->get_subcommands().empty())
                listing();
        });
    auto* list = command->add_subcommand ("list", "Every print with its reels");
    list->footer ("Example: shutterbeat prints film.shutterbeat list --json");
    list->add_flag ("--json", words->json, "One JSON document on standard output");
    list->callback (listing);

    auto* add = command->add_subcommand ("add", "Scans another print of the film and adds it; no edition uses it yet");
    add->footer ("Example: shutterbeat prints film.shutterbeat add \"Second print\" reel1.mp4 reel2.mp4 --gauge \"16 mm\"");
    add->add_option ("NAME", words->name, "What it is called")->required();
    add->add_option ("FILE", words->files, "Its files, the reels in order")->required();
    add->add_option ("--gauge", words->gauge, "35 mm, 16 mm, 9.5 mm, 8 mm or Super 8")->capture_default_str();
    add->add_flag ("--json", words->json, "One JSON document on standard output");
    add->callback ([words, &chosen] { chosen = [words] (const Console& console) { return addPrint (*words, console); }; });
}
} // namespace shutterbeat::cli
