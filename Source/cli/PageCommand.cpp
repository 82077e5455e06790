#include "cli/HandoverCommands.h"
#include "desk/WebPage.h"

#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct PageWords
{
    std::string book, output;
    AskedWords asked;
    desk::WebPageWish wish;
    int leader = -1;
};

int page (const PageWords& words, const Console& console)
{
    std::vector<std::string> notes;
    auto asked = words.asked.read (notes);
    if (! asked)
        return console.fail (asked.error());
    const auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    auto wish = words.wish;
    wish.asked = std::move (*asked);
    if (words.leader >= 0)
        wish.leaderSeconds = words.leader;
    console.notes (notes);
    const auto saved = desk::writeWebPage (*open, words.output, wish);
    if (! saved)
        return console.fail (saved.error());
    console.out << words.output << ": open it in a browser; what its reader says comes back with: shutterbeat import " << words.book
                << " reply FILE\n";
    return done;
}
} // namespace

void addPage (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<PageWords>();
    auto* command =
        app.add_subcommand ("page", "Makes a web page that plays the reference movie beside hits and cues, for answers");
    command->footer ("The page needs no server, network or program but a browser; keep it with the movies it names.\n"
                     "Its reader adds, accepts, refuses and weights hits, answers questions and saves a file to send back.\n"
                     "Example: shutterbeat render film.shutterbeat -o film.mp4 --show none\n"
                     "         shutterbeat page film.shutterbeat film.mp4 -o film.html --for ida");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("MOVIE", words->wish.movies, "Reference movie of each reel, as delivered")->required();
    command->add_option ("-o,--output", words->output, "Page to write, .html")->required();
    words->asked.addTo (*command);
    command->add_option ("--for", words->wish.person, "Id of the person who is to read it, such as ida");
    command->add_option ("--leader", words->leader, "Seconds of leader in the movies; else by their start timecode")
        ->check (CLI::Range (0, 60));
    command->add_option ("--stamped", words->wish.stamped, "Date on the page: 2026-05-01");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return page (*words, console); }; });
}
} // namespace shutterbeat::cli
