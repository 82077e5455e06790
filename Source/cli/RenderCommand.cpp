#include "cli/Command.h"
#include "desk/Render.h"
#include "time/Text.h"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct RenderWords
{
    std::string book, output, codec = "h264", size, show = "all", countdown = "should", marksFor = "must", markColour;
    AskedWords asked;
    desk::RenderWish wish;
    int reel = 0;
    bool noSound = false, click = false, json = false;
    int freeClicks = 4;
};

Result<overlay::Parts> partsFrom (const std::string& words)
{
    overlay::Parts parts;
    if (words == "all")
        return parts;
    parts = { false, false, false, false, false, false, false };
    for (const auto word : time::splitAt (words, ','))
    {
        const auto name = time::trimmed (word);
        bool* part = name == "timecode"    ? &parts.timecode
                     : name == "frame"     ? &parts.frame
                     : name == "feet"      ? &parts.feet
                     : name == "bar"       ? &parts.bar
                     : name == "cue"       ? &parts.cue
                     : name == "countdown" ? &parts.countdown
                                           : nullptr;
        if (part == nullptr)
            return usageError ("--show " + words,
                               "is not known; choose all, none, or some of timecode,frame,feet,bar,cue,countdown");
        *part = true;
    }
    return parts;
}

Result<std::pair<int, int>> sizeFrom (const std::string& text)
{
    const auto sides = time::splitAt (text, 'x');
    const auto side = [&] (std::size_t i) { return i < sides.size() ? time::parseWhole (sides[i]) : std::nullopt; };
    if (sides.size() != 2 || ! side (0) || ! side (1) || *side (0) > 8192 || *side (1) > 8192)
        return usageError ("--size " + text, "is no size; write it as 1280x720");
    return std::pair{ static_cast<int> (*side (0)), static_cast<int> (*side (1)) };
}

/// Six hexadecimal digits, "#" before them or not.
Result<overlay::Dye> dyeFrom (const std::string& text)
{
    const auto digits = text.substr (! text.empty() && text[0] == '#' ? 1 : 0);
    if (digits.size() != 6 || digits.find_first_not_of ("0123456789abcdefABCDEF") != std::string::npos)
        return usageError ("--mark-colour " + text, "has to be six hexadecimal digits, such as e0a33a");
    const auto part = [&] (std::size_t at) { return std::stoi (digits.substr (at, 2), nullptr, 16) / 255.0; };
    return overlay::Dye{ part (0), part (2), part (4) };
}

/// The wish as typed. Error: a word that does not exist.
Result<desk::RenderWish> wishFrom (const RenderWords& words, std::vector<std::string>& notes)
{
    auto wish = words.wish;
    auto asked = words.asked.read (notes);
    if (! asked)
        return asked.error();
    wish.asked = std::move (*asked);
    wish.overlay = words.show != "none";
    if (wish.overlay)
    {
        const auto parts = partsFrom (words.show);
        if (! parts)
            return parts.error();
        wish.parts = *parts;
        wish.parts.receiver = ! wish.receiver.empty();
    }
    if (words.codec != "h264" && words.codec != "prores")
        return usageError ("--codec " + words.codec, "is not known; choose h264 or prores");
    wish.codec = words.codec == "h264" ? media::MovieCodec::h264 : media::MovieCodec::prores;
    if (! words.size.empty())
    {
        const auto size = sizeFrom (words.size);
        if (! size)
            return size.error();
        wish.size = *size;
    }
    const auto countdown = spotting::parseWeight (words.countdown);
    if (! countdown)
        return countdown.error();
    wish.countdownTo = *countdown;
    const auto least = spotting::parseWeight (words.marksFor);
    if (! least)
        return least.error();
    wish.marks.least = *least;
    if (! words.markColour.empty())
    {
        const auto dye = dyeFrom (words.markColour);
        if (! dye)
            return dye.error();
        wish.marks.dye = *dye;
    }
    wish.sound = ! words.noSound;
    if (words.click)
    {
        wish.click.emplace();
        wish.click->freeClicks = words.freeClicks;
    }
    return wish;
}

/// movie.mp4 as it is for the only reel, movie-reel2.mp4 where there are several.
std::string nameOf (const std::string& output, std::size_t reel, std::size_t reels)
{
    if (reels < 2)
        return output;
    const std::filesystem::path path (output);
    return (path.parent_path() / (path.stem().string() + "-reel" + std::to_string (reel + 1) + path.extension().string())).string();
}

nlohmann::ordered_json jsonOf (const desk::Rendered& made, std::size_t reel)
{
    nlohmann::ordered_json json{ { "file", made.path },
                                 { "reel", reel + 1 },
                                 { "frames", made.frames },
                                 { "rate", time::fractionText (made.rate.perSecond) },
                                 { "final_rate", time::rateName (made.rate) },
                                 { "width", made.width },
                                 { "height", made.height },
                                 { "start_timecode", made.startLabel },
                                 { "picture_start", made.pictureStart },
                                 { "leader_frames", made.leaderFrames },
                                 { "picture_frames", made.pictureFrames },
                                 { "samples", made.samples },
                                 { "overlay_beside_picture", made.besidePicture } };
    json["pops"] = nlohmann::ordered_json::array();
    for (const auto& pop : { made.popBefore, made.popAfter })
        if (pop)
            json["pops"].push_back (*pop);
    return json;
}

int render (const RenderWords& words, const Console& console)
{
    std::vector<std::string> notes;
    auto wish = wishFrom (words, notes);
    if (! wish)
        return console.fail (wish.error());
    const auto open = desk::openBook (words.book);
    if (! open)
        return console.fail (open.error());
    const auto timings = spotting::timingsOf (open->book, wish->asked);
    if (! timings)
        return console.fail (timings.error());
    console.notes (notes);
    const auto reels = words.reel > 0 ? 1 : timings->reelCount();
    auto list = nlohmann::ordered_json::array();
    for (std::size_t i = 0; i < reels; ++i)
    {
        wish->reel = words.reel > 0 ? static_cast<std::size_t> (words.reel) - 1 : i;
        const auto made = desk::renderReel (*open, nameOf (words.output, wish->reel, reels), *wish, console.progress());
        if (! made)
            return console.fail (made.error());
        console.notes (made->notes);
        list.push_back (jsonOf (*made, wish->reel));
        if (! words.json)
            console.out << made->path << ": " << made->frames << " frames at " << time::rateName (made->rate)
                        << (made->startLabel.empty() ? "" : ", starts at " + made->startLabel)
                        << (made->leaderFrames > 0 && ! made->pictureStart.empty() ? ", picture at " + made->pictureStart : "")
                        << "\n";
    }
    if (words.json)
        console.out << nlohmann::ordered_json{ { "book", words.book }, { "movies", list } }.dump (2) << "\n";
    return done;
}
} // namespace

void addRender (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<RenderWords>();
    auto& wish = words->wish;
    auto* command =
        app.add_subcommand ("render", "Makes a reference movie: the film as delivered, with timings beside the picture");
    command->footer (
        "Example: shutterbeat render film.shutterbeat -o film.mp4 --final 25 --leader 10 --pop --for \"Copy for Anna\"\n"
        "         shutterbeat render film.shutterbeat -o take.mov --codec prores --streamers 3 --punches --caution-read\n"
        "Punches, flutters and flashes flash: ask everybody who will see them before you show them, then say --caution-read.");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("-o,--output", words->output, "Movie to write, .mp4 or .mov; several reels get -reel1, -reel2 ...")
        ->required();
    words->asked.addTo (*command);
    command->add_option ("--reel", words->reel, "Only this reel of the edition, from 1")->check (CLI::Range (1, 1000));
    command->add_option ("--show", words->show, "all, none, or some of timecode,frame,feet,bar,cue,countdown")
        ->capture_default_str();
    command->add_option ("--for", wish.receiver, "A line that names the receiver");
    command->add_option ("--countdown-to", words->countdown, "Count down to hits of this weight and above: must, should, may")
        ->capture_default_str();
    command->add_option ("--streamers", wish.marks.streamer,
                         "A line that crosses the picture and arrives on the hit: 2, 3, 4 or 5 seconds");
    command->add_flag ("--punches", wish.marks.punches, "A disc on the hit");
    command->add_option ("--flutters", wish.marks.flutter, "So many discs in turn about the hit: 3, 5 or 7");
    command->add_flag ("--flashes", wish.marks.flashes, "The whole picture on the hit; at most three a second, 360 ms apart");
    command->add_flag ("--caution-read", wish.marks.cautionRead, "The caution about flashing light was read");
    command->add_option ("--mark-colour", words->markColour, "Colour of streamers, red green blue: e0a33a")->default_str ("e0a33a");
    command->add_option ("--marks-at", wish.marks.hits, "Ids of the hits that get these marks, whatever their weight");
    command->add_option ("--marks-for", words->marksFor, "Hits of this weight and above get these marks: must, should, may")
        ->capture_default_str();
    command->add_option ("--leader", wish.leaderSeconds, "Seconds of countdown before the picture, 0 to 60");
    command->add_flag ("--pop", wish.pop, "One frame of tone and light two seconds before the picture and after it");
    command->add_option ("--size", words->size, "Size of the movie: 1280x720; else by the film");
    command->add_option ("--codec", words->codec, "h264 (with AAC) or prores (with PCM, .mov)")->capture_default_str();
    command->add_option ("--quality", wish.crf, "H.264: 0 to 51, lower is better and larger")
        ->check (CLI::Range (0, 51))
        ->capture_default_str();
    command->add_option ("--preset", wish.preset, "H.264: ultrafast to veryslow")
        ->check (CLI::IsMember ({ "ultrafast", "superfast", "veryfast", "faster", "fast", "medium", "slow", "slower", "veryslow" }))
        ->capture_default_str();
    command->add_flag ("--working-copies", wish.workingCopies, "Take the pictures from the working copies");
    auto* none = command->add_flag ("--no-sound", words->noSound, "No sound track; else the book's sounds in their places");
    command->add_flag ("--click", words->click, "Mix in the click of every cue that has a tempo")->excludes (none);
    command->add_option ("--free", words->freeClicks, "Free clicks before each of these cues")
        ->check (CLI::Range (0, 64))
        ->capture_default_str();
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return render (*words, console); }; });
}
} // namespace shutterbeat::cli
