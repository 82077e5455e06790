#include "cli/FitText.h"

#include "cli/Table.h"
#include "music/TempoMap.h"

#include <cmath>

namespace shutterbeat::cli
{
namespace
{
using time::Rational;

/// A computed number for people, without the locale.
std::string decimal (double x, int decimals)
{
    return time::decimalText (Rational (static_cast<std::int64_t> (std::llround (x * 1e9)), 1'000'000'000), decimals);
}

std::string measureName (music::FitMeasure measure)
{
    return measure == music::FitMeasure::largest ? "largest" : measure == music::FitMeasure::squares ? "squares" : "beyond";
}

/// Milliseconds, or milliseconds squared.
std::string valueText (double value, music::FitMeasure measure)
{
    return measure == music::FitMeasure::squares ? decimal (value * 1e6, 0) : decimal (value * 1000, 1);
}

std::string labelOf (const spotting::BookTimes& times, std::size_t row)
{
    if (row >= times.hits.size())
        return "(the cue's in)";
    const auto& hit = times.hits[row].hit;
    return oneLine (hit.label.empty() ? hit.id : hit.label);
}

/// "+1.3 late": frames at the final rate.
std::string framesText (double late, const spotting::BookTimes& times)
{
    const double frames = late * time::toDouble (times.timings.delivery().rate.perSecond);
    const auto text = decimal (std::abs (frames), 1);
    return text == "0.0" ? "0.0" : text + (frames > 0 ? " late" : " early");
}

Json landingJson (const spotting::BookTimes& times, std::size_t row, double beat, double late)
{
    Json json{ { "hit", row < times.hits.size() ? Json (times.hits[row].hit.id) : Json (nullptr) },
               { "label", labelOf (times, row) },
               { "beat", decimal (beat + 1, 3) },
               { "late_seconds", decimal (late, 6) },
               { "late_frames", decimal (late * time::toDouble (times.timings.delivery().rate.perSecond), 3) } };
    return json;
}

std::string chanceText (const desk::TempoAnswer& answer)
{
    const std::string count = std::to_string (answer.hits.size()) + (answer.hits.size() == 1 ? " hit" : " hits");
    if (answer.chanceOfFit >= .9)
        return count + ": as many random hits would fit some tempo of this range nearly always; a fit means little.";
    return count + ": as many random hits would all fit some tempo of this range in " + decimal (answer.chanceOfFit * 100, 0)
           + " of 100 cases.";
}
} // namespace

Json tempoAnswerJson (const spotting::BookTimes& times, const spotting::Cue& cue, const desk::TempoWish& wish,
                      const desk::TempoAnswer& answer)
{
    Json best = Json::array();
    for (const auto& listed : answer.best)
    {
        Json hits = Json::array();
        for (std::size_t i = 0; i < answer.hits.size(); ++i)
        {
            auto hit = landingJson (times, answer.hits[i].row, listed.landings[i].beat, listed.landings[i].late);
            hit["within"] = listed.landings[i].within;
            hits.push_back (std::move (hit));
        }
        best.push_back ({ { "beats_per_minute", time::fractionText (listed.beatsPerMinute) },
                          { "tempo", time::decimalText (listed.beatsPerMinute, 4) },
                          { "start_from_in", time::decimalText (listed.start, 6) },
                          { "start_from_in_exact", time::fractionText (listed.start) },
                          { "value", listed.point.value },
                          { "chance", listed.chance },
                          { "click", listed.click },
                          { "click_tempo", time::decimalText (listed.clickTempo, 4) },
                          { "within", listed.within },
                          { "hits", std::move (hits) } });
    }
    Json json{ { "cue", cue.number },
               { "measure", measureName (wish.fit.measure) },
               { "unit", wish.fit.measure == music::FitMeasure::squares ? "seconds squared" : "seconds" },
               { "fits", ! answer.best.empty() },
               { "best", std::move (best) },
               { "chance_of_fit", answer.chanceOfFit },
               { "left_out", answer.leftOut } };
    if (! answer.obstacle.empty())
        json["obstacle"] = answer.obstacle;
    return json;
}

void printTempoAnswer (const spotting::BookTimes& times, const spotting::Cue& cue, const desk::TempoWish& wish,
                       const desk::TempoAnswer& answer, std::ostream& out)
{
    out << "Cue " << cue.number << ", one tempo from " << decimal (wish.fit.lowest, 2) << " to " << decimal (wish.fit.highest, 2)
        << ", start " << wish.start << ", measure " << measureName (wish.fit.measure) << "\n"
        << chanceText (answer) << "\n";
    if (answer.best.empty())
    {
        out << "Nothing fits: " << answer.obstacle << ".\n";
        return;
    }
    out << "\n";
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < answer.best.size(); ++i)
    {
        const auto& listed = answer.best[i];
        rows.push_back ({ std::to_string (i + 1), time::decimalText (listed.beatsPerMinute, 3),
                          listed.click + " (" + time::decimalText (listed.clickTempo, 2) + ")", time::decimalText (listed.start, 3),
                          valueText (listed.point.value, wish.fit.measure), valueText (listed.chance, wish.fit.measure),
                          std::to_string (listed.within) + " of " + std::to_string (answer.hits.size()) });
    }
    const bool squares = wish.fit.measure == music::FitMeasure::squares;
    printTable ({ { "", true },
                  { "tempo", true },
                  { "click", false },
                  { "first beat after in", true },
                  { squares ? "error, ms2" : "error, ms", true },
                  { "by chance", true },
                  { "in limits", true } },
                rows, out);
    out << "\nFrames late or early at " << time::rateName (times.timings.delivery().rate) << ", by number of the list:\n";
    rows.clear();
    std::vector<Column> columns{ { "hit", false }, { "weight", false }, { "beat of 1", true } };
    const auto shown = std::min<std::size_t> (4, answer.best.size());
    for (std::size_t b = 0; b < shown; ++b)
        columns.push_back ({ std::to_string (b + 1), true });
    for (std::size_t i = 0; i < answer.hits.size(); ++i)
    {
        std::vector<std::string> row{ labelOf (times, answer.hits[i].row),
                                      std::string (spotting::weightName (times.hits[answer.hits[i].row].hit.weight)),
                                      decimal (answer.best.front().landings[i].beat + 1, wish.fit.grid < 1 ? 2 : 0) };
        for (std::size_t b = 0; b < shown; ++b)
            row.push_back (framesText (answer.best[b].landings[i].late, times) + (answer.best[b].landings[i].within ? "" : " !"));
        rows.push_back (std::move (row));
    }
    printTable (columns, rows, out);
    out << "! beyond the hit's limits\n";
}

Json barsAnswerJson (const spotting::BookTimes& times, const spotting::Cue& cue, const desk::BarsWish& wish,
                     const desk::BarsAnswer& answer)
{
    Json costs = Json::object();
    costs["text"] = music::costsText (wish.bars.costs);
    Json json{ { "cue", cue.number }, { "fits", answer.bars.fit.has_value() }, { "costs", costs }, { "left_out", answer.leftOut } };
    if (! answer.obstacle.empty())
        json["obstacle"] = answer.obstacle;
    if (! answer.bars.fit)
        return json;
    const auto& fit = *answer.bars.fit;
    json["cost"] = fit.cost;
    json["bar_one_from_in"] = time::fractionText (fit.barOne);
    Json stretches = Json::array(), hits = Json::array();
    std::int64_t bar = 1;
    for (const auto& stretch : fit.stretches)
    {
        stretches.push_back ({ { "from_bar", bar },
                               { "beats", stretch.beats },
                               { "bars", stretch.bars },
                               { "entry_tempo", decimal (stretch.entry, 4) },
                               { "exit_tempo", decimal (stretch.exit, 4) },
                               { "ramp_from_beat", stretch.ramp ? Json (decimal (stretch.steadyBeats + 1, 4)) : Json (nullptr) },
                               { "landing_frames", stretch.landing },
                               { "cost", stretch.cost() },
                               { "cost_deviation", stretch.deviationCost },
                               { "cost_tempo_change", stretch.tempoCost },
                               { "cost_bars", stretch.barsCost },
                               { "cost_landing", stretch.landingCost },
                               { "cost_misses", stretch.missCost } });
        bar += static_cast<std::int64_t> (stretch.bars.size());
    }
    for (std::size_t i = 0; i < answer.hits.size(); ++i)
        if (fit.landings[i].judged)
        {
            auto hit = landingJson (times, answer.hits[i].row, fit.landings[i].beat, fit.landings[i].late);
            hit["cost"] = fit.landings[i].cost;
            hits.push_back (std::move (hit));
        }
    json["stretches"] = std::move (stretches);
    json["hits"] = std::move (hits);
    return json;
}

void printBarsAnswer (const spotting::BookTimes& times, const spotting::Cue& cue, const desk::BarsWish& wish,
                      const desk::BarsAnswer& answer, std::ostream& out)
{
    out << "Cue " << cue.number << ", bars between musts, preferred " << time::decimalText (wish.bars.preferred, 2) << " within "
        << decimal (wish.bars.band * 100, 1) << " %\n";
    if (! answer.bars.fit)
    {
        out << "Nothing fits: " << answer.obstacle << ".\n";
        return;
    }
    const auto& fit = *answer.bars.fit;
    const auto map = music::TempoMap::of (fit.plan);
    out << "Cost " << decimal (fit.cost, 3) << ", the least that any bars have with: " << music::costsText (wish.bars.costs) << "\n"
        << "Bar 1 begins " << time::decimalText (fit.barOne, 3) << " s after the cue's in\n\n";
    std::vector<std::vector<std::string>> rows;
    std::int64_t bar = 1;
    for (const auto& stretch : fit.stretches)
    {
        std::string bars;
        for (std::size_t i = 0; i < stretch.bars.size();)
        {
            std::size_t j = i;
            while (j < stretch.bars.size() && stretch.bars[j] == stretch.bars[i])
                ++j;
            bars += (i > 0 ? " + " : "") + std::to_string (j - i) + " of " + std::to_string (stretch.bars[i]);
            i = j;
        }
        rows.push_back ({ std::to_string (bar), labelOf (times, answer.hits[stretch.to].row), bars,
                          stretch.ramp ? decimal (stretch.entry, 2) + " to " + decimal (stretch.exit, 2) + " from beat "
                                             + decimal (stretch.steadyBeats + 1, 2)
                                       : decimal (stretch.entry, 2),
                          std::to_string (stretch.landing), decimal (stretch.deviationCost, 3), decimal (stretch.tempoCost, 3),
                          decimal (stretch.barsCost, 3), decimal (stretch.landingCost, 3), decimal (stretch.missCost, 3) });
        bar += static_cast<std::int64_t> (stretch.bars.size());
    }
    printTable ({ { "from bar", true },
                  { "up to", false },
                  { "bars", false },
                  { "tempo", false },
                  { "frames late", true },
                  { "cost: tempo off", true },
                  { "change", true },
                  { "bars", true },
                  { "landing", true },
                  { "misses", true } },
                rows, out);
    out << "\n";
    rows.clear();
    for (std::size_t i = 0; i < answer.hits.size(); ++i)
    {
        const auto& landing = fit.landings[i];
        if (! landing.judged)
            continue;
        const Rational quarters =
            Rational (static_cast<std::int64_t> (std::llround (landing.beat))) * wish.bars.unit * Rational (4);
        rows.push_back ({ labelOf (times, answer.hits[i].row),
                          answer.hits[i].target.must ? "must" : decimal (answer.hits[i].target.weight, 2),
                          map ? music::barBeatText (map->barBeatOf (quarters)) : decimal (landing.beat + 1, 0),
                          framesText (landing.late, times), decimal (landing.cost, 3) });
    }
    printTable ({ { "hit", false }, { "weight", true }, { "falls on", false }, { "frames", true }, { "cost", true } }, rows, out);
}

Json refitJson (const spotting::Cue& cue, const desk::RefitAnswer& answer)
{
    Json ways = Json::array();
    for (const auto& way : answer.ways)
        ways.push_back ({ { "what", music::wayText (way, *cue.tempo) },
                          { "beats", way.beats },
                          { "bars_in", way.barsIn },
                          { "beats_in_one_bar", way.beatsInBar },
                          { "bars", way.bars },
                          { "nudge", way.nudge },
                          { "nudge_beats", way.nudgeBeats },
                          { "frames_left", way.leftFrames },
                          { "cost", way.cost() } });
    return { { "cue", cue.number }, { "change_seconds", time::fractionText (answer.change) }, { "ways", std::move (ways) } };
}

void printRefit (const spotting::Cue& cue, const desk::RefitAnswer& answer, std::ostream& out)
{
    const auto frames = answer.change / answer.wish.frame;
    out << "Cue " << cue.number << ", bars " << answer.wish.firstBar << " to " << answer.wish.endBar << ": the picture is "
        << time::decimalText (frames, 1) << " frames (" << time::decimalText (answer.change, 3)
        << " s) longer than what is written\n";
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < answer.ways.size(); ++i)
        rows.push_back (
            { std::to_string (i + 1), decimal (answer.ways[i].cost(), 3), music::wayText (answer.ways[i], *cue.tempo) });
    if (rows.empty())
        out << "Nothing fits within a nudge of " << decimal (answer.wish.mostNudge * 100, 0) << " %; fit the bars anew.\n";
    else
        printTable ({ { "", true }, { "cost", true }, { "way", false } }, rows, out);
}
} // namespace shutterbeat::cli
