#include "cli/HandoverCommands.h"
#include "cli/Table.h"
#include "desk/Chapters.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

struct ChapterWords
{
    std::string book, movie, output;
    AskedWords asked;
    desk::ChaptersWish wish;
    int reel = 1, leader = -1;
    bool json = false;
};

void print (const ChapterWords& words, const film::Timings& timings, const desk::MovieChapters& made, const Console& console)
{
    std::vector<std::vector<std::string>> rows;
    auto list = Json::array();
    for (const auto& chapter : made.chapters)
    {
        const auto label = timings.timecodeOf (chapter.frame, words.wish.reel);
        rows.push_back ({ std::to_string (chapter.frame + made.leaderFrames), label, oneLine (chapter.title) });
        list.push_back ({ { "delivered_frame", chapter.frame },
                          { "movie_frame", chapter.frame + made.leaderFrames },
                          { "timecode", label },
                          { "title", chapter.title } });
    }
    if (words.json)
    {
        console.out << Json{ { "movie", words.movie },
                             { "saved", words.output },
                             { "leader_frames", made.leaderFrames },
                             { "chapters", list },
                             { "notes", made.notes } }
                           .dump (2, ' ', false, Json::error_handler_t::replace)
                    << "\n";
        return;
    }
    printTable ({ { "movie frame", true }, { "timecode" }, { "title" } }, rows, console.out);
    console.out << made.chapters.size() << " chapters"
                << (words.output.empty() ? "; nothing was written, give -o FILE" : "; written to " + words.output) << "\n";
}

int chapters (const ChapterWords& words, const Console& console)
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
    const auto timings = spotting::timingsOf (open->book, wish.asked);
    if (! timings)
        return console.fail (timings.error());
    console.notes (notes);
    const auto made = desk::chaptersForMovie (*open, words.movie, wish);
    if (! made)
        return console.fail (made.error());
    console.notes (made->notes);
    if (! words.output.empty())
        if (const auto written = desk::writeMovieChapters (*open, words.movie, words.output, wish, *made, console.progress());
            ! written)
            return console.fail (written.error());
    print (words, *timings, *made, console);
    return done;
}
} // namespace

void addChapters (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<ChapterWords>();
    auto* command =
        app.add_subcommand ("chapters", "Writes chapters into a copy of a movie: every cue of music, and what is named");
    command->footer (
        "Nothing is encoded again. Where the picture starts in the movie is read from its start timecode.\n"
        "The other way: shutterbeat import BOOK chapters MOVIE\n"
        "Example: shutterbeat chapters film.shutterbeat film.mp4 -o film-chapters.mp4 --chapter anna-3 --on-key-pictures");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("MOVIE", words->movie, "Movie of a reel as delivered: of shutterbeat render, or another's")->required();
    command->add_option ("-o,--output", words->output, "Movie to write, .mp4, .m4v, .mov or .mkv; none: only show the chapters");
    words->asked.addTo (*command);
    command->add_option ("--reel", words->reel, "Reel of the edition, from 1")->check (CLI::Range (1, 1000))->capture_default_str();
    command->add_option ("--chapter", words->wish.ids, "Id of a hit or cue that begins a chapter too");
    command->add_flag ("--on-key-pictures", words->wish.onKeyPictures,
                       "Move each back to the last key picture, where players jump at once; the shift is shown");
    command->add_option ("--leader", words->leader, "Seconds of leader in the movie; else by its start timecode")
        ->check (CLI::Range (0, 60));
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback (
        [words, &chosen]
        {
            words->wish.reel = static_cast<std::size_t> (words->reel) - 1;
            chosen = [words] (const Console& console) { return chapters (*words, console); };
        });
}
} // namespace shutterbeat::cli
