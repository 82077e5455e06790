#include "cli/Command.h"
#include "cli/FitText.h"
#include "cli/Table.h"
#include "desk/CueFit.h"
#include "desk/CurveDrawing.h"
#include "time/Text.h"

#include <memory>

namespace shutterbeat::cli
{
namespace
{
struct FitWords
{
    std::string book, cue, range = "40-208", step = "0.01", measure = "beyond", grid = "1", start = "free", curve;
    std::string preferred = "96", band = "15", landing = "1", ramps = "0.5", meter = "4/4";
    std::vector<std::string> costs, written;
    std::size_t listed = 8;
    int set = 0;
    bool strong = false, loose = false, bars = false, json = false;
    AskedWords asked;
};

Result<double> number (const std::string& what, const std::string& text)
{
    const auto read = time::parseRational (text);
    if (! read || ! read->valid())
        return usageError (what + " \"" + text + "\"", "is not a number");
    return time::toDouble (*read);
}

Result<desk::TempoWish> tempoWish (const FitWords& words)
{
    desk::TempoWish wish;
    const auto ends = time::splitAt (words.range, '-');
    if (ends.size() != 2)
        return usageError ("range \"" + words.range + "\"", "is written from-to, such as 60-120");
    const auto low = number ("range", std::string (ends[0])), high = number ("range", std::string (ends[1]));
    const auto step = number ("step", words.step), grid = number ("grid", words.grid);
    const auto meter = music::parseMeter (words.meter);
    for (const auto* read : { &low, &high, &step, &grid })
        if (! *read)
            return read->error();
    if (! meter)
        return meter.error();
    wish.fit.lowest = *low;
    wish.fit.highest = *high;
    wish.fit.step = *step;
    wish.fit.grid = *grid;
    wish.meter = *meter;
    if (words.measure == "largest")
        wish.fit.measure = music::FitMeasure::largest;
    else if (words.measure == "squares")
        wish.fit.measure = music::FitMeasure::squares;
    else if (words.measure != "beyond")
        return usageError ("measure \"" + words.measure + "\"", "is none of: largest, squares, beyond");
    wish.mustsBind = ! words.loose;
    wish.start = words.start;
    wish.strong = words.strong;
    wish.listed = words.listed;
    return wish;
}

Result<music::BarCosts> costsOf (const FitWords& words)
{
    music::BarCosts costs;
    for (const auto& word : words.costs)
    {
        const auto parts = time::splitAt (word, '=');
        if (parts.size() != 2)
            return usageError ("cost \"" + word + "\"", "is written name=value");
        const auto value = number ("cost", std::string (parts[1]));
        if (! value)
            return value.error();
        if (auto set = music::setCost (costs, parts[0], *value); ! set)
            return set.error();
    }
    return costs;
}

Result<desk::BarsWish> barsWish (const FitWords& words)
{
    desk::BarsWish wish;
    const auto costs = costsOf (words);
    const auto preferred = time::parseRational (words.preferred);
    const auto band = number ("band", words.band), ramps = number ("ramps", words.ramps);
    const auto landing = time::parseWhole (words.landing);
    const auto meter = music::parseMeter (words.meter);
    if (! costs)
        return costs.error();
    if (! preferred || ! preferred->valid())
        return usageError ("preferred tempo \"" + words.preferred + "\"", "is not a number");
    if (! band)
        return band.error();
    if (! ramps)
        return ramps.error();
    if (! landing || *landing < 0 || *landing > 12)
        return usageError ("landing \"" + words.landing + "\"", "is 0 to 12 frames");
    if (! meter)
        return meter.error();
    wish.bars.costs = *costs;
    wish.bars.preferred = *preferred;
    wish.bars.band = *band / 100;
    wish.bars.landingFrames = static_cast<int> (*landing);
    wish.bars.rampGrid = *ramps;
    const auto lengths = music::beatLengths (*meter);
    wish.bars.beatsPerBar = static_cast<int> (lengths.size());
    wish.bars.unit = lengths.front() / time::Rational (4);
    return wish;
}

/// Saves a map found for a cue; the book is read anew, so that nothing else of it is touched.
int saveMap (const Console& console, const FitWords& words, const std::string& cue, const Result<music::TempoMap>& map,
             const time::Rational& fromIn)
{
    return editBook (console, words.book,
                     [&] (const desk::OpenBook& open) { return desk::withTempo (open.book, cue, map, fromIn); });
}

int fitOne (const FitWords& words, const Console& console, const spotting::BookTimes& times, const spotting::Cue& cue)
{
    const auto wish = tempoWish (words);
    if (! wish)
        return console.fail (wish.error());
    const auto answer = desk::fitTempo (times, cue.id, *wish);
    if (! answer)
        return console.fail (answer.error());
    console.notes (answer->leftOut);
    if (words.json)
        console.out << tempoAnswerJson (times, cue, *wish, *answer).dump (2) << "\n";
    else
        printTempoAnswer (times, cue, *wish, *answer, console.out);
    if (! words.curve.empty())
        if (const auto drawn = desk::drawCurve (*answer, *wish, words.curve); ! drawn)
            return console.fail (drawn.error());
    if (answer->best.empty())
        return found;
    if (words.set > 0)
    {
        if (words.set > static_cast<int> (answer->best.size()))
            return console.fail (usageError ("--set " + std::to_string (words.set),
                                             "only " + std::to_string (answer->best.size()) + " tempos are listed"));
        const auto& chosen = answer->best[static_cast<std::size_t> (words.set - 1)];
        return saveMap (console, words, cue.id, music::TempoMap::steady (chosen.beatsPerMinute), chosen.start);
    }
    return done;
}

int fitTheBars (const FitWords& words, const Console& console, const spotting::BookTimes& times, const spotting::Cue& cue)
{
    const auto wish = barsWish (words);
    if (! wish)
        return console.fail (wish.error());
    const auto answer = desk::fitBars (times, cue.id, *wish);
    if (! answer)
        return console.fail (answer.error());
    console.notes (answer->leftOut);
    console.notes (answer->notes);
    if (words.json)
        console.out << barsAnswerJson (times, cue, *wish, *answer).dump (2) << "\n";
    else
        printBarsAnswer (times, cue, *wish, *answer, console.out);
    if (! answer->bars.fit)
        return found;
    if (words.set > 0)
        return saveMap (console, words, cue.id, music::TempoMap::of (answer->bars.fit->plan), answer->bars.fit->barOne);
    return done;
}

int refitBars (const FitWords& words, const Console& console, const spotting::BookTimes& times, const spotting::Cue& cue)
{
    std::vector<desk::WrittenOn> on;
    for (const auto& word : words.written)
    {
        const auto equals = word.rfind ('=');
        const auto bar = equals == std::string::npos ? std::nullopt : time::parseWhole (word.substr (equals + 1));
        if (! bar)
            return console.fail (usageError ("--written " + word, "is written HIT=BAR, such as anna-4=9"));
        on.push_back ({ word.substr (0, equals), *bar });
    }
    if (on.size() != 2)
        return console.fail (usageError ("--written", "name two hits with the bars they were written on"));
    music::RefitWish wish;
    const auto costs = costsOf (words);
    if (! costs)
        return console.fail (costs.error());
    wish.costs = *costs;
    const auto landing = time::parseWhole (words.landing);
    if (! landing || *landing < 0 || *landing > 12)
        return console.fail (usageError ("landing \"" + words.landing + "\"", "is 0 to 12 frames"));
    wish.landingFrames = static_cast<int> (*landing);
    const auto answer = desk::refit (times, cue.id, on[0], on[1], wish);
    if (! answer)
        return console.fail (answer.error());
    if (words.json)
        console.out << refitJson (cue, *answer).dump (2) << "\n";
    else
        printRefit (cue, *answer, console.out);
    if (answer->ways.empty())
        return found;
    if (words.set == 0)
        return done;
    if (words.set > static_cast<int> (answer->ways.size()))
        return console.fail (usageError ("--set " + std::to_string (words.set),
                                         "only " + std::to_string (answer->ways.size()) + " ways are listed"));
    return editBook (console, words.book,
                     [&] (const desk::OpenBook& open) -> Result<spotting::Book>
                     {
                         const auto again = desk::refit (times, cue.id, on[0], on[1], wish);
                         const auto map =
                             music::refitted (*cue.tempo, again->wish, again->ways[static_cast<std::size_t> (words.set - 1)]);
                         if (! map)
                             return map.error();
                         return desk::withPinnedTempo (open.book, cue.id, *map);
                     });
}

int fit (const FitWords& words, const Console& console)
{
    const auto timed = timedBook (console, words.book, words.asked);
    if (! timed)
        return console.fail (timed.error());
    const auto cue = spotting::cueNamed (timed->open.book, words.cue);
    if (! cue)
        return console.fail (cue.error());
    if (! words.written.empty())
        return refitBars (words, console, timed->times, *cue);
    return words.bars ? fitTheBars (words, console, timed->times, *cue) : fitOne (words, console, timed->times, *cue);
}
} // namespace

void addFit (CLI::App& app, Action& chosen)
{
    auto words = std::make_shared<FitWords>();
    auto* command = app.add_subcommand ("fit", "What tempo, or which bars, make a cue's hits fall on beats");
    command->footer ("Example: shutterbeat fit film.shutterbeat 1M2 --range 80-120 --start in\n"
                     "Example: shutterbeat fit film.shutterbeat 1M2 --bars --preferred 96 --set 1\n"
                     "Example: shutterbeat fit film.shutterbeat 1M2 --written anna-4=5 --written anna-9=13\n"
                     "Exit status 1: nothing fits within the limits; the answer names what stands in the way.");
    command->add_option ("BOOK", words->book, "Book")->required();
    command->add_option ("CUE", words->cue, "Id or number of a cue")->required();
    command->add_option ("--range", words->range, "Beats a minute from-to")->capture_default_str();
    command->add_option ("--step", words->step, "Step of the curve")->capture_default_str();
    command->add_option ("--measure", words->measure, "largest (error), squares (sum of), beyond (sum beyond the limits)")
        ->capture_default_str();
    command->add_option ("--grid", words->grid, "Beats between places for hits: 1 or 1/2")->capture_default_str();
    command->add_option ("--start", words->start, "A beat is there: free, in (the cue's in) or a place")->capture_default_str();
    command->add_flag ("--strong", words->strong, "Prefer strong beats of --meter");
    command->add_flag ("--loose", words->loose, "Musts only weigh more; their limits do not bind");
    command->add_option ("--list", words->listed, "How many tempos to list")->capture_default_str()->check (CLI::Range (1, 100));
    command->add_option ("--curve", words->curve,
                         "Draw the error over tempo, with the line of chance, as FILE.svg, or as a table in FILE.csv");
    auto* bars = command->add_flag ("--bars", words->bars, "Fit bars and meters between the musts instead");
    command->add_option ("--preferred", words->preferred, "Bars: preferred beats a minute")->capture_default_str();
    command->add_option ("--band", words->band, "Bars: per cent the tempo may stray from it")->capture_default_str();
    command->add_option ("--landing", words->landing, "Bars: frames a must may be missed by, inside its limits")
        ->capture_default_str();
    command->add_option ("--ramps", words->ramps, "Bars: ramps end on multiples of this tempo; 0 for no ramps")
        ->capture_default_str();
    command->add_option ("--meter", words->meter, "Usual meter")->capture_default_str();
    command->add_option (
        "--cost", words->costs,
        "Bars: name=value, of: deviation, step, ramp, shorter, shorter2, longer, meter-change, landing, miss-cap, bar-in-out");
    command->add_option ("--written", words->written, "HIT=BAR, twice: ways to keep what is written between two hits after a recut")
        ->excludes (bars);
    command->add_option ("--set", words->set, "Set the cue's tempo map to the nth answer")->check (CLI::Range (1, 100));
    command->add_flag ("--json", words->json, "One JSON document on standard output");
    words->asked.addTo (*command);
    command->callback ([words, &chosen] { chosen = [words] (const Console& console) { return fit (*words, console); }; });
}
} // namespace shutterbeat::cli
