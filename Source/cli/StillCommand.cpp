#include "cli/Command.h"
#include "desk/Still.h"

#include <memory>

namespace shutterbeat::cli
{
void addStill (CLI::App& app, Action& chosen)
{
    struct Words
    {
        std::string source, place, output;
        AskedWords asked;
    };
    auto words = std::make_shared<Words>();
    auto* command = app.add_subcommand ("still", "Writes one frame of a film or a book as a PNG picture");
    command->footer ("Example: shutterbeat still film.shutterbeat tc:01:00:55:14 -o frame.png");
    command->add_option ("SOURCE", words->source, "Film file or book")->required();
    command
        ->add_option ("PLACE", words->place,
                      "film:1000, file:1389, tc:01:00:55:14, feet:62+08, edge:SHOT.head+0; a bare number is a film "
                      "frame of a book, a file frame of a film")
        ->required();
    command->add_option ("-o,--output", words->output, "PNG file to write")->required();
    words->asked.addTo (*command);
    command->callback (
        [words, &chosen]
        {
            chosen = [words] (const Console& console)
            {
                std::vector<std::string> notes;
                const auto asked = words->asked.read (notes);
                if (! asked)
                    return console.fail (asked.error());
                const auto written = desk::writeStill (words->source, words->place, words->output, *asked);
                if (! written)
                    return console.fail (written.error());
                notes.insert (notes.end(), written->begin(), written->end());
                console.notes (notes);
                console.out << words->output << "\n";
                return static_cast<int> (done);
            };
        });
}
} // namespace shutterbeat::cli
