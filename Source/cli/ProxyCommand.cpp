#include "cli/Command.h"
#include "desk/Proxy.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace shutterbeat::cli
{
void addProxy (CLI::App& app, Action& chosen)
{
    struct Words
    {
        std::string book;
        desk::WorkingCopyWish wish;
        bool json = false;
    };
    auto words = std::make_shared<Words>();
    auto* command = app.add_subcommand ("proxy", "Makes a small working copy of every reel, with the same frame numbers");
    command->footer ("Example: shutterbeat proxy film.shutterbeat -o /media/laptop/working --width 640\n"
                     "The book then plays and takes pictures from the copies; the films stay for scans and checks. Either can be "
                     "found again with: shutterbeat relink");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("-o,--output", words->wish.folder, "Folder for the copies; else NAME-working beside the book");
    command->add_option ("--width", words->wish.width, "Width in pixels at most")->capture_default_str();
    command->add_flag ("--again", words->wish.again, "Make them anew where there are some already");
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback (
        [words, &chosen]
        {
            chosen = [words] (const Console& console)
            {
                auto open = desk::openBook (words->book);
                if (! open)
                    return console.fail (open.error());
                const auto made = desk::makeWorkingCopies (*open, words->wish, console.progress());
                if (! made)
                    return console.fail (made.error());
                console.notes (made->notes);
                auto list = nlohmann::ordered_json::array();
                for (const auto& copy : made->made)
                {
                    list.push_back ({ { "print", copy.print },
                                      { "reel", copy.reel + 1 },
                                      { "path", copy.path },
                                      { "frames", copy.frames },
                                      { "width", copy.width },
                                      { "height", copy.height } });
                    if (! words->json)
                        console.out << copy.path << ": " << copy.frames << " frames, " << copy.width << " x " << copy.height
                                    << "\n";
                }
                if (words->json)
                    console.out << nlohmann::ordered_json{ { "book", words->book }, { "working_copies", list } }.dump (2) << "\n";
                return static_cast<int> (done);
            };
        });
}
} // namespace shutterbeat::cli
