#include "cli/Command.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct NewWords
{
    std::string book, start, title, gauge = "35 mm";
    std::vector<std::string> files;
    AskedWords asked;
    bool json = false;
};

int makeBook (const NewWords& words, const Console& console)
{
    std::vector<std::string> notes;
    const auto asked = words.asked.read (notes);
    if (! asked)
        return console.fail (asked.error());
    const auto gauge = time::parseGauge (words.gauge);
    if (! gauge)
        return console.fail (gauge.error());
    desk::NewBook wanted;
    wanted.files = words.files;
    wanted.running = asked->running;
    wanted.rate = asked->rate;
    wanted.fill = asked->fill;
    wanted.title = words.title;
    wanted.gauge = *gauge;
    if (! words.start.empty())
        wanted.start = words.start;
    auto made = desk::newBook (words.book, wanted, console.progress());
    console.notes (notes);
    if (! made)
        return console.fail (made.error());
    console.notes (made->notes);
    if (const auto saved = desk::saveBook (made->open); ! saved)
        return console.fail (saved.error());
    const auto& edition = made->open.book.editions[0];
    std::size_t cards = 0;
    for (const auto& shot : edition.shots)
        cards += shot.kind == film::ShotKind::card ? 1 : 0;
    if (words.json)
        console.out << nlohmann::ordered_json{
            { "book", words.book },
            { "shots", edition.shots.size() },
            { "cards", cards },
            { "film_frames", film::filmFramesOf (made->open.book.prints[0]) },
            { "running", time::fractionText (edition.speed) },
            { "final_rate", time::rateName (made->open.book.delivery.rate) },
            { "fill", film::fillName (made->open.book.delivery.from) }
        }.dump (2) << "\n";
    else
        console.out << words.book << ": " << edition.shots.size() << " shots, " << cards << " of them cards, "
                    << film::filmFramesOf (made->open.book.prints[0]) << " film frames\n";
    return done;
}
/// Every reel of the book, as if its film (or working copy) had to be found.
std::vector<desk::MissingFilm> everyReel (const desk::OpenBook& open, bool workingCopy)
{
    std::vector<desk::MissingFilm> all;
    for (const auto& print : open.book.prints)
        for (std::size_t r = 0; r < print.reels.size(); ++r)
            all.push_back ({ print.id, r, "", "", workingCopy });
    return all;
}
} // namespace

void addNew (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<NewWords>();
    auto* command = app.add_subcommand ("new", "Makes a book from the files of a print, its reels in order");
    command->footer (
        "Example: shutterbeat new film.shutterbeat reel1.mp4 reel2.mp4 --running 18 --final 29.97df --start 01:00:00:00");
    command->add_option ("BOOK", words->book, "Book to make")->required();
    command->add_option ("FILE", words->files, "Film files, the reels of one print in order")->required();
    words->asked.addTo (*command);
    command->remove_option (command->get_option ("--edition"));
    command->add_option ("--start", words->start, "Start timecode: the label of the first frame of the picture");
    command->add_option ("--title", words->title, "Title of the film");
    command->add_option ("--gauge", words->gauge, "35 mm, 16 mm, 9.5 mm, 8 mm or Super 8")->capture_default_str();
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return makeBook (*words, console); }; });
}

void addRelink (CLI::App& app, Action& chosen)
{
    struct Words
    {
        std::string book, file;
        int reel = 0;
        bool workingCopy = false;
    };
    auto words = std::make_shared<Words>();
    auto* command = app.add_subcommand ("relink", "Tells a book where a film file has gone");
    command->footer ("Example: shutterbeat relink film.shutterbeat /films/restored/reel1.mp4");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("FILE", words->file, "Where the film is now")->required();
    command->add_option ("--reel", words->reel, "Which reel, from 1; needed when several are missing");
    command->add_flag ("--working-copy", words->workingCopy, "The file is the reel's working copy, not the film itself");
    command->callback (
        [words, &chosen]
        {
            chosen = [words] (const Console& console)
            {
                return editBook (
                    console, words->book,
                    [&] (const desk::OpenBook& open) -> Result<spotting::Book>
                    {
                        auto missing = words->workingCopy ? desk::missingWorkingCopies (open) : desk::missingFilms (open);
                        // A working copy, or a reel that is named, may be changed though nothing is missing.
                        if (missing.empty() && (words->workingCopy || words->reel > 0))
                            missing = everyReel (open, words->workingCopy);
                        if (words->reel > 0)
                            missing.erase (std::remove_if (missing.begin(), missing.end(),
                                                           [&] (const auto& m)
                                                           { return m.reel + 1 != static_cast<std::size_t> (words->reel); }),
                                           missing.end());
                        if (missing.empty())
                            return usageError (words->book, words->reel > 0 ? "it has no reel " + std::to_string (words->reel) + " to find"
                                                                            : "no film of it is missing");
                        if (missing.size() > 1)
                            return usageError (words->book,
                                               std::to_string (missing.size()) + " films may be meant; say which with --reel");
                        return desk::relink (open, missing.front(), words->file);
                    });
            };
        });
}
} // namespace shutterbeat::cli
