#include "ClipTruth.h"

#include "Catch.h"
#include "Drawn.h"

#include "media/FilmFile.h"
#include "media/GreyPass.h"
#include "time/Text.h"

#include <charconv>
#include <cstdio>
#include <fstream>
#include <iostream>
#include <memory>

namespace shutterbeat::tests
{
namespace
{
using Json = nlohmann::json;

constexpr std::int64_t slack = 3;      // the neutral rule of the truth: round gradual spans
constexpr std::int64_t openSlack = 25; // and round fades of which one end only is listed
} // namespace

std::string clipFile (const Clip& clip)
{
    return testData ("data/video/" + clip.name);
}

std::vector<Clip> clips()
{
    std::vector<Clip> all;
    std::ifstream file (testData ("data/video/groundtruth.json"));
    if (! file)
        return all;
    const auto parsed = Json::parse (file);
    for (const auto& [name, truth] : parsed.items())
        if (truth.is_object() && truth.contains ("hard_cuts") && std::ifstream (testData ("data/video/" + name)))
            all.push_back ({ name, truth, name.rfind ("sintel", 0) != 0 && name.rfind ("psd", 0) != 0 });
    return all;
}

bool isNeutral (const Json& truth, std::int64_t cut)
{
    const auto inside = [cut] (const Json& span, std::int64_t around)
    { return cut >= span.at (0).get<std::int64_t>() - around && cut <= span.at (1).get<std::int64_t>() + around; };
    for (const Json& gradual : truth.value ("gradual", Json::array()))
    {
        if (gradual.contains ("about") && inside (gradual["about"], slack))
            return true;
        for (const char* open : { "from", "to" })
            if (gradual.contains (open) && std::abs (gradual[open].get<std::int64_t>() - cut) <= openSlack)
                return true;
    }
    for (const Json& other : truth.value ("other_boundaries", Json::array()))
        if (inside (other.at ("out"), slack) || other.at ("first_frame_new_shot") == cut)
            return true;
    return false;
}

CutScore& CutScore::operator+= (const CutScore& other)
{
    right += other.right;
    invented += other.invented;
    missed += other.missed;
    return *this;
}

double CutScore::f1() const
{
    const int all = 2 * right + invented + missed;
    return all == 0 ? 1 : 2.0 * right / all;
}

CutScore judged (const Clip& clip, const std::vector<std::int64_t>& cuts, bool say, std::int64_t end)
{
    CutScore score;
    const auto hard = clip.truth.at ("hard_cuts").get<std::vector<std::int64_t>>();
    for (const auto cut : hard)
    {
        if (cut >= end)
            continue;
        const bool found = std::find (cuts.begin(), cuts.end(), cut) != cuts.end();
        ++(found ? score.right : score.missed);
        if (! found && say)
            std::cout << "  " << clip.name << ": missed the cut at " << cut << "\n";
    }
    for (const auto cut : cuts)
        if (cut < end && std::find (hard.begin(), hard.end(), cut) == hard.end() && ! isNeutral (clip.truth, cut))
        {
            ++score.invented;
            if (say)
                std::cout << "  " << clip.name << ": invented a cut at " << cut << "\n";
        }
    return score;
}

std::vector<std::int64_t> claimedCuts (const scan::ScanResult& result)
{
    auto cuts = cutsOf (result);
    std::erase_if (cuts,
                   [&] (std::int64_t cut)
                   {
                       return std::any_of (result.spans.begin(), result.spans.end(),
                                           [cut] (const scan::Span& span) {
                                               return (span.kind == scan::SpanKind::dissolve || span.kind == scan::SpanKind::wipe)
                                                      && cut >= span.first && cut < span.end;
                                           });
                   });
    return cuts;
}

scan::ScanResult scanned (const std::string& file)
{
    scan::Scanner scanner;
    REQUIRE (media::forEachGrey (file, scan::scanWidth, scan::scanHeight,
                                 [&] (std::int64_t, const film::GreyPicture& picture) { return scanner.add (picture).ok(); }));
    const auto film = media::openFilm (file);
    REQUIRE (film.ok());
    scan::Options options;
    options.fileRate = film->rate;
    return scan::shots (scanner.finish(), options);
}

std::vector<std::pair<std::int64_t, double>> differenceScores (const std::string& file)
{
    struct ClosePipe
    {
        void operator() (std::FILE* pipe) const { pclose (pipe); }
    };
    const std::unique_ptr<std::FILE, ClosePipe> pipe (
        popen (("ffmpeg -nostdin -v error -i '" + file
                + "' -an -fps_mode passthrough -vf scdet=threshold=0,metadata=print:key=lavfi.scd.score:file=- -f null -")
                   .c_str(),
               "r"));
    std::vector<std::pair<std::int64_t, double>> scores;
    if (! pipe)
        return scores;
    // "frame:12   pts:..." and below it "lavfi.scd.score=3.210".
    char line[512];
    std::int64_t frame = -1;
    while (std::fgets (line, sizeof line, pipe.get()) != nullptr)
    {
        const std::string_view text = time::trimmed (line);
        constexpr std::string_view frameWord = "frame:", scoreWord = "lavfi.scd.score=";
        if (time::startsWith (text, frameWord))
        {
            const auto number = text.substr (frameWord.size(), text.find (' ') - frameWord.size());
            frame = time::parseWhole (number).value_or (-1);
        }
        else if (double score = 0;
                 time::startsWith (text, scoreWord)
                 && std::from_chars (text.data() + scoreWord.size(), text.data() + text.size(), score).ec == std::errc{})
            scores.emplace_back (frame, score);
    }
    return scores;
}
} // namespace shutterbeat::tests
