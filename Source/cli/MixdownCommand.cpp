#include "cli/HandoverCommands.h"
#include "cli/TimesText.h"
#include "desk/Mixdown.h"
#include "spotting/SoundEdit.h"

#include <cmath>
#include <filesystem>
#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct MixdownWords
{
    std::string book, output, retime, gain = "0";
    std::vector<std::string> sounds;
    AskedWords asked;
    desk::MixdownWish wish;
    int reel = 0, freeClicks = 4;
    bool whole = false, click = false, json = false;
};

Result<desk::MixdownWish> wishFrom (const MixdownWords& words, const spotting::Book& book, std::vector<std::string>& notes)
{
    auto wish = words.wish;
    auto asked = words.asked.read (notes);
    if (! asked)
        return asked.error();
    wish.asked = std::move (*asked);
    using desk::Retime;
    wish.retime = words.retime == "resample"  ? Retime::resample
                  : words.retime == "stretch" ? Retime::stretch
                  : words.retime == "none"    ? Retime::none
                                              : Retime::ask;
    const auto gain = time::parseRational (words.gain);
    if (! gain)
        return usageError ("--gain " + words.gain, "is no number of decibels");
    wish.gain = *gain;
    for (const auto& name : words.sounds)
    {
        const auto sound = spotting::soundNamed (book, name);
        if (! sound)
            return sound.error();
        if (! wish.soundIds)
            wish.soundIds.emplace();
        wish.soundIds->insert (sound->id);
    }
    if (words.click)
    {
        wish.click.emplace();
        wish.click->freeClicks = words.freeClicks;
    }
    return wish;
}

Json jsonOf (const desk::Mixdown& made)
{
    const auto number = [] (const std::optional<double>& value)
    { return value ? Json (static_cast<double> (std::llround (*value * 10)) / 10) : Json (nullptr); };
    auto sounds = Json::array();
    for (const auto& sound : made.sounds)
        sounds.push_back ({ { "id", sound.id },
                            { "name", sound.name },
                            { "start", sound.start },
                            { "retimed_by", time::fractionText (sound.factor) } });
    return { { "file", made.path },
             { "samples", made.samples },
             { "picture_sample", made.pictureSample },
             { "picture_samples", made.pictureSamples },
             { "start_timecode", made.start },
             { "clipped", made.clipped },
             { "loudness",
               { { "integrated_lufs", number (made.loudness.integrated) },
                 { "range_lu", number (made.loudness.range) },
                 { "loudest_3s_lufs", number (made.loudness.loudestShort) },
                 { "true_peak_dbtp", number (made.loudness.truePeak) } } },
             { "sounds", sounds },
             { "notes", made.notes } };
}

void print (const desk::Mixdown& made, int rate, const Console& console)
{
    console.out << made.path << ": " << made.samples << " samples at " << rate << ", picture " << made.pictureSamples
                << (made.pictureSample > 0 ? " from sample " + std::to_string (made.pictureSample) : "")
                << (made.start.empty() ? "" : ", starts at " + made.start) << "\n";
    console.out << "  loudness of the picture: " << mix::loudnessText (made.loudness) << "\n";
    for (const auto& sound : made.sounds)
        console.out << "  " << sound.name << " at " << sound.start
                    << (sound.factor == time::Rational (1) ? "" : ", " + time::fractionText (sound.factor) + " as long") << "\n";
}

int mixdown (const MixdownWords& words, const Console& console)
{
    const auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    std::vector<std::string> notes;
    auto wish = wishFrom (words, open->book, notes);
    if (! wish)
        return console.fail (wish.error());
    const auto timings = spotting::timingsOf (open->book, wish->asked);
    if (! timings)
        return console.fail (timings.error());
    console.notes (notes);
    const auto reels = words.whole || words.reel > 0 ? 1 : timings->reelCount();
    auto list = Json::array();
    bool clipped = false;
    for (std::size_t i = 0; i < reels; ++i)
    {
        auto target = words.output;
        if (words.reel > 0)
            wish->reel = static_cast<std::size_t> (words.reel) - 1;
        else if (! words.whole)
            wish->reel = i;
        if (reels > 1)
        {
            const std::filesystem::path path (target);
            target = (path.parent_path() / (path.stem().string() + "-reel" + std::to_string (i + 1) + path.extension().string()))
                         .string();
        }
        const auto made = desk::writeMixdown (*open, target, *wish, console.progress());
        if (! made)
            return console.fail (made.error());
        console.notes (made->notes);
        list.push_back (jsonOf (*made));
        clipped = clipped || made->clipped > 0;
        if (! words.json)
            print (*made, wish->samplesPerSecond, console);
    }
    if (words.json)
        console.out << Json{ { "book", words.book }, { "mixdowns", list } }.dump (2) << "\n";
    return clipped ? found : done;
}
} // namespace

void addMixdown (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<MixdownWords>();
    auto& wish = words->wish;
    auto* command = app.add_subcommand ("mixdown", "Mixes the book's sounds in place into one file as long as the picture");
    command->footer ("A sound made for another delivery (24, and now 25 frame for frame from 24) has to be re-timed: --retime.\n"
                     "Exit status 1: some samples were too loud and were clipped.\n"
                     "Example: shutterbeat mixdown film.shutterbeat -o film.wav --leader 10 --pop\n"
                     "         shutterbeat mixdown film.shutterbeat -o film-25.wav --final 25 --fill from:24 --retime stretch");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("-o,--output", words->output, "WAV file to write; several reels get -reel1, -reel2 ...")->required();
    words->asked.addTo (*command);
    auto* reel = command->add_option ("--reel", words->reel, "Only this reel of the edition, from 1")->check (CLI::Range (1, 1000));
    command->add_flag ("--whole", words->whole, "All reels one after another in one file")->excludes (reel);
    command->add_option ("--sound", words->sounds, "Id or name of a sound to take; else all that are not muted");
    command->add_option ("--retime", words->retime, "resample (pitch moves), stretch (pitch kept) or none")
        ->check (CLI::IsMember ({ "resample", "stretch", "none" }));
    command->add_flag ("--click", words->click, "Mix in the click of every cue that has a tempo");
    command->add_option ("--free", words->freeClicks, "Free clicks before each of these cues")
        ->check (CLI::Range (0, 64))
        ->capture_default_str();
    command->add_option ("--leader", wish.leaderSeconds, "Seconds before the picture, 0 to 60");
    command->add_flag ("--pop", wish.pop, "A tone of one frame two seconds before the picture and after it");
    command->add_option ("--gain", words->gain, "Decibels for all sounds and clicks: -3")->capture_default_str();
    command->add_option ("--rate", wish.samplesPerSecond, "Samples a second")->capture_default_str();
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return mixdown (*words, console); }; });
}
} // namespace shutterbeat::cli
