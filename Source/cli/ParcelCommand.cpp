#include "cli/HandoverCommands.h"
#include "cli/Table.h"
#include "desk/Parcel.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

struct ParcelWords
{
    std::string book, output, paper = "a4";
    AskedWords asked;
    desk::ParcelWish wish;
    bool noMovie = false, json = false;
};

int listed (const ParcelWords& words, const desk::OpenBook& open, const Console& console)
{
    std::vector<std::vector<std::string>> rows;
    auto list = Json::array();
    const auto parcels = desk::parcelsSent (open);
    if (! parcels)
        return console.fail (parcels.error());
    for (const auto& parcel : *parcels)
    {
        rows.push_back ({ parcel.person, std::to_string (parcel.number), parcel.stamped, parcel.sent.edition,
                          time::rateName (parcel.sent.delivery.rate) + ", " + film::fillName (parcel.sent.delivery.from),
                          std::to_string (parcel.files.size()) });
        auto files = Json::array();
        for (const auto& file : parcel.files)
            files.push_back ({ { "name", file.name }, { "sha256", file.sha256 } });
        list.push_back ({ { "person", parcel.person },
                          { "number", parcel.number },
                          { "stamped", parcel.stamped },
                          { "edition", parcel.sent.edition },
                          { "final_rate", time::rateName (parcel.sent.delivery.rate) },
                          { "fill", film::fillName (parcel.sent.delivery.from) },
                          { "files", files } });
    }
    if (words.json)
        console.out << Json{ { "parcels", list } }.dump (2, ' ', false, Json::error_handler_t::replace) << "\n";
    else
        printTable ({ { "for" }, { "number", true }, { "date" }, { "edition" }, { "delivered" }, { "files", true } }, rows,
                    console.out);
    return done;
}

int parcel (const ParcelWords& words, const Console& console)
{
    auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    if (words.output.empty())
        return listed (words, *open, console);
    std::vector<std::string> notes;
    auto asked = words.asked.read (notes);
    if (! asked)
        return console.fail (asked.error());
    auto wish = words.wish;
    wish.asked = std::move (*asked);
    wish.movie = ! words.noMovie;
    wish.letter = words.paper == "letter";
    if (wish.person.empty())
        return console.fail (usageError ("parcel", "is for somebody: name them with --for, such as --for ida"));
    console.notes (notes);
    auto made = desk::makeParcel (*open, words.output, wish, console.progress());
    if (! made)
        return console.fail (made.error());
    open->book = made->book;
    if (const auto saved = desk::saveBook (*open); ! saved)
        return console.fail (saved.error());
    console.notes (made->notes);
    if (words.json)
    {
        auto files = Json::array();
        for (const auto& file : made->parcel.files)
            files.push_back (file.name);
        console.out << Json{ { "parcel", words.output }, { "person", made->parcel.person }, { "number", made->parcel.number },
                             { "first", made->first },   { "changes", made->changes },      { "files", files },
                             { "notes", made->notes } }
                           .dump (2, ' ', false, Json::error_handler_t::replace)
                    << "\n";
        return done;
    }
    console.out << words.output << ": parcel " << made->parcel.number << " for " << made->parcel.person << ", "
                << made->parcel.files.size() + 1 << " files\n";
    if (! made->first)
        console.out << (made->changes.empty() ? "nothing changed since their last one\n" : "since their last one:\n");
    for (const auto& change : made->changes)
        console.out << "  " << oneLine (change) << "\n";
    return done;
}
} // namespace

void addParcel (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<ParcelWords>();
    auto& wish = words->wish;
    auto* command = app.add_subcommand ("parcel", "Packs what a person needs: movie, web page, notes, MIDI, clicks, lists");
    command->footer (
        "Each person's parcels are numbered and kept in the book; the read-me begins with what changed since their last.\n"
        "Without -o it lists what was sent.\n"
        "Example: shutterbeat parcel film.shutterbeat --for ida -o ida-3.zip --final 25 --stamped 2026-05-01\n"
        "         shutterbeat parcel film.shutterbeat");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("--for", wish.person, "Id of the person it is for, such as ida");
    command->add_option ("-o,--output", words->output, "Folder, or zip when it ends in .zip; must not be there yet");
    words->asked.addTo (*command);
    command->add_option ("--stamped", wish.stamped, "Date printed on everything: 2026-05-01");
    command->add_option ("--movie", wish.movies, "Reference movie of each reel that is there already, else they are rendered");
    auto* none = command->add_flag ("--no-movie", words->noMovie, "Neither movie nor web page");
    command->get_option ("--movie")->excludes (none);
    command->add_option ("--leader", wish.leaderSeconds, "Seconds of countdown before the picture in the movie, 0 to 60");
    command->add_flag ("--pop", wish.pop, "One frame of tone and light two seconds before the picture and after it");
    command->add_option ("--preset", wish.preset, "Of the movie: ultrafast to veryslow")->capture_default_str();
    command->add_option ("--paper", words->paper, "Of sheets: a4 or letter")
        ->check (CLI::IsMember ({ "a4", "letter" }))
        ->capture_default_str();
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return parcel (*words, console); }; });
}
} // namespace shutterbeat::cli
