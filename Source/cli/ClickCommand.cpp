#include "cli/Command.h"
#include "cli/TimesText.h"
#include "desk/CueClick.h"
#include "time/Clock.h"

#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct ClickWords
{
    std::string book, cue, file, level = "-20";
    desk::ClickWish wish;
    bool even = false, json = false;
    AskedWords asked;
};

int writeClick (const ClickWords& words, const Console& console)
{
    const auto timed = timedBook (console, words.book, words.asked);
    if (! timed)
        return console.fail (timed.error());
    const auto cue = spotting::cueNamed (timed->open.book, words.cue);
    if (! cue)
        return console.fail (cue.error());
    auto wish = words.wish;
    wish.look.accents = ! words.even;
    const auto level = time::parseRational (words.level);
    if (! level || ! level->valid() || *level > time::Rational (0) || *level < time::Rational (-80))
        return console.fail (usageError ("level \"" + words.level + "\"", "is decibels below full scale, from -80 to -6"));
    wish.level = *level;
    const auto written = desk::writeClick (timed->times, cue->id, wish, words.file);
    if (! written)
        return console.fail (written.error());
    console.notes (written->notes);
    if (words.json)
        console.out << Json{
            { "file", words.file },
            { "cue", cue->number },
            { "clicks", written->clicks },
            { "free_clicks", written->freeClicks },
            { "first_sample", written->firstSample },
            { "samples", written->samples },
            { "rate", wish.samplesPerSecond }
        }.dump (2) << "\n";
    else
        console.out << words.file << ": " << written->freeClicks << " free clicks and " << written->clicks << " clicks, begins "
                    << time::clockText (time::Rational (written->firstSample, wish.samplesPerSecond), 3)
                    << " from picture start (sample " << written->firstSample << ")\n";
    return done;
}
} // namespace

void addClick (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<ClickWords>();
    auto* command = app.add_subcommand ("click", "Writes a cue's click as a WAV file, 24 bits, on the film's sample grid");
    command->footer ("Example: shutterbeat click film.shutterbeat 1M1 -o click-1M1.wav --free 8 --parts 2");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("CUE", words->cue, "Id or number of a cue with a tempo")->required();
    command->add_option ("-o,--output", words->file, "WAV file to write")->required();
    auto* free = command->add_option ("--free", words->wish.look.freeClicks, "Free clicks before the music")->capture_default_str();
    command->add_option ("--free-bars", words->wish.look.freeBars, "Or so many bars of them")->excludes (free);
    command->add_option ("--parts", words->wish.look.parts, "Clicks a beat")->capture_default_str();
    command->add_option ("--pattern", words->wish.look.pattern, "One letter a beat of the bar: X accent, x click, . silent");
    command->add_flag ("--even", words->even, "No accent on bar starts");
    command->add_option ("--level", words->level, "Decibels below full scale; at most -6")->capture_default_str();
    command->add_option ("--rate", words->wish.samplesPerSecond, "Samples a second")->capture_default_str();
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    words->asked.addTo (*command);
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return writeClick (*words, console); }; });
}
} // namespace shutterbeat::cli
