#include "cli/Command.h"
#include "desk/ContactSheet.h"
#include "desk/ScanCurve.h"
#include "desk/ScanFilm.h"

#include <nlohmann/json.hpp>

#include <iomanip>
#include <memory>

namespace shutterbeat::cli
{
namespace
{
using Json = nlohmann::ordered_json;

struct ScanWords
{
    std::string film, sheet, curve;
    std::optional<double> threshold;
    bool json = false;
};

Json scanJson (const desk::ScannedFilm& scanned)
{
    Json shots = Json::array(), spans = Json::array(), cadence = Json::array();
    for (const auto& shot : scanned.scan.shots)
        shots.push_back ({ { "first", shot.firstFile },
                           { "end", shot.endFile },
                           { "kind", std::string (film::shotKindName (shot.kind)) },
                           { "strength", static_cast<int> (shot.strength * 1000 + 0.5) / 1000.0 },
                           { "first_film", shot.firstFilm },
                           { "end_film", shot.endFilm } });
    for (const auto& span : scanned.scan.spans)
        spans.push_back (
            { { "first", span.first }, { "end", span.end }, { "kind", std::string (scan::spanKindName (span.kind)) } });
    for (const auto& run : scanned.scan.cadence.runs())
        cadence.push_back ({ { "cycle", run.cycle }, { "film_frames", run.filmFrames } });
    Json joins = Json::array(), stretches = Json::array();
    for (const auto& join : scanned.scan.joins)
        joins.push_back ({ { "frame", join.frame }, { "strength", static_cast<int> (join.strength * 1000 + 0.5) / 1000.0 } });
    for (const auto& stretch : scanned.scan.stretches)
        stretches.push_back (
            { { "first", stretch.firstFile },
              { "end", stretch.endFile },
              { "kind", std::string (scan::cadenceKindName (stretch.kind)) },
              { "cycle", stretch.cycle },
              { "film_frames_a_second", stretch.speed ? Json (time::fractionText (*stretch.speed)) : Json (nullptr) } });
    const auto& rate = scanned.film.rate;
    return { { "frames", scanned.film.frames },
             { "rate", time::fractionText (rate) + (rate.isWhole() ? "/1" : "") },
             { "shots", std::move (shots) },
             { "film_frames", scanned.scan.cadence.filmFrames() },
             { "cadence", std::move (cadence) },
             { "cadence_said", scanned.scan.cadenceSaid },
             { "cadence_sure", scanned.scan.cadenceSure },
             { "padded_for", scanned.scan.askedSpeed ? Json (time::fractionText (*scanned.scan.askedSpeed)) : Json (nullptr) },
             { "stretches", std::move (stretches) },
             { "spans", std::move (spans) },
             { "joins", std::move (joins) },
             { "start_timecode", scanned.film.startLabel.empty() ? Json (nullptr) : Json (scanned.film.startLabel) },
             { "width", scanned.film.width },
             { "height", scanned.film.height } };
}

void printScan (const desk::ScannedFilm& scanned, std::ostream& out)
{
    const auto& film = scanned.film;
    out << film.frames << " frames at " << time::speedText (film.rate) << " a second, " << film.width << " x " << film.height
        << (film.startLabel.empty() ? "" : ", starts at " + film.startLabel) << "\n"
        << scanned.scan.cadenceSaid << ": " << scanned.scan.cadence.filmFrames() << " film frames\n"
        << "  no.   kind   first     end  frames  film first  strength\n";
    std::size_t number = 0;
    for (const auto& shot : scanned.scan.shots)
        out << std::setw (5) << ++number << "   " << std::left << std::setw (5) << film::shotKindName (shot.kind) << std::right
            << std::setw (8) << shot.firstFile << std::setw (8) << shot.endFile << std::setw (8) << shot.endFile - shot.firstFile
            << std::setw (12) << shot.firstFilm << "      "
            << time::decimalText (time::Rational (static_cast<int> (shot.strength * 100 + 0.5), 100), 2) << "\n";
    for (const auto& span : scanned.scan.spans)
        out << "        " << scan::spanKindName (span.kind) << " " << span.first << " to " << span.end << "\n";
}
} // namespace

void addScan (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<ScanWords>();
    auto* command = app.add_subcommand ("scan", "Finds shots, cards and the cadence of repeats in a film file");
    command->footer ("Example: shutterbeat scan reel1.mp4 --sheet reel1.pdf\n"
                     "A film is looked through once; scanning it again with another --threshold takes no second pass.");
    command->add_option ("FILM", words->film, "Film file")->required();
    command->add_option ("--threshold", words->threshold, "How strong a change must be to end a shot, 0 to 1")
        ->check (CLI::Range (0.0, 1.0));
    command->add_option ("--sheet", words->sheet,
                         "Writes a contact sheet of the whole film: FILE.pdf (pages) or FILE.png (one picture)");
    command->add_option ("--curve", words->curve,
                         "Writes the measure that the threshold cuts, a line a file frame: FILE.csv (frame, measure 0 to 1)");
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    command->callback (
        [words, &chosen]
        {
            chosen = [words] (const Console& console)
            {
                const auto scanned = desk::scanFilm (words->film, console.progress(), words->threshold);
                if (! scanned)
                    return console.fail (scanned.error());
                console.notes (scanned->film.warnings);
                console.notes (scanned->scan.notes);
                if (! words->curve.empty())
                    if (const auto written = desk::writeScanCurve (scanned->scan, words->curve); ! written)
                        return console.fail (written.error());
                if (! words->sheet.empty())
                {
                    const auto notes = desk::writeContactSheet (*scanned, words->sheet, console.progress());
                    if (! notes)
                        return console.fail (notes.error());
                    console.notes (*notes);
                }
                if (words->json)
                    console.out << scanJson (*scanned).dump (2) << "\n";
                else
                    printScan (*scanned, console.out);
                return static_cast<int> (done);
            };
        });
}
} // namespace shutterbeat::cli
