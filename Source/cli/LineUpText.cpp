#include "cli/LineUpText.h"

#include "cli/Table.h"
#include "lineup/DiagnosisWords.h"
#include "time/Clock.h"

#include <cmath>

namespace shutterbeat::cli
{
namespace
{
using lineup::lateText;
using lineup::numberText;

/// Numbers in JSON to so many decimals, so that the document does not pretend to more.
double rounded (double value, double steps)
{
    return std::round (value * steps) / steps;
}

std::string nameOf (const spotting::HitTimes& row)
{
    return row.hit.label.empty() ? std::string (spotting::hitKindName (row.hit.kind)) : row.hit.label;
}

Json lineJson (const lineup::Diagnosis& diagnosis)
{
    if (! diagnosis.line)
        return nullptr;
    const auto& line = *diagnosis.line;
    return { { "late_ms", rounded (1000 * line.late, 10) },
             { "late_error_ms", rounded (1000 * line.lateError, 10) },
             { "ratio", rounded (line.ratio, 1e6) },
             { "ratio_error", rounded (line.ratioError, 1e6) },
             { "scatter_ms", rounded (1000 * line.scatter, 10) },
             { "matched", line.matched },
             { "beats", line.beats },
             { "chance", rounded (line.chance, 1000) },
             { "score", rounded (line.score, 1000) } };
}

Json mistakesJson (const lineup::Diagnosis& diagnosis)
{
    Json list = Json::array();
    for (const auto& mistake : diagnosis.mistakes)
        list.push_back (
            { { "ratio", time::fractionText (mistake.ratio) }, { "what", mistake.words }, { "sample_rate", mistake.sampleRate } });
    return list;
}

Json hitLineJson (const spotting::BookTimes& times, const desk::SoundLineUp& lined, const desk::HitLineUp& hit)
{
    const auto& row = times.hits[hit.row];
    Json json = hitJson (row);
    json["wanted"] = rounded (hit.wanted, 1e4);
    json["heard"] = hit.heard ? Json (rounded (*hit.heard, 1e4)) : Json (nullptr);
    json["late_ms"] = hit.heard ? Json (rounded (hit.lateMs, 10)) : Json (nullptr);
    json["late_frames"] = hit.heard ? Json (rounded (hit.frames, 100)) : Json (nullptr);
    json["verdict"] = desk::hitVerdictName (hit.verdict);
    json["early_limit_ms"] = row.hit.earlyMs;
    json["late_limit_ms"] = row.hit.lateMs;
    json["might_be_another"] = hit.heard && ! hit.alone;
    json["breaks"] = hit.broken;
    const auto heardClock = time::toDouble (lined.start) + hit.heard.value_or (0);
    json["heard_clock"] = hit.heard ? Json (rounded (heardClock, 1e4)) : Json (nullptr);
    return json;
}

/// "12 ms late", never finer, and in frames: "0.3 frames".
std::string verdictText (const desk::HitLineUp& hit)
{
    if (hit.verdict == desk::HitVerdict::noAccent)
        return "no clear accent here";
    if (hit.verdict == desk::HitVerdict::outside)
        return "the sound does not reach it";
    return lateText (hit.lateMs / 1000) + ", " + numberText (std::abs (hit.frames), 1) + " frames"
           + (hit.alone ? "" : " (or another accent)");
}
} // namespace

Json lineUpJson (const spotting::BookTimes& times, const desk::SoundLineUp& lined)
{
    const auto& d = lined.diagnosis;
    Json might = Json::array();
    for (const double late : d.mightBe)
        might.push_back (rounded (1000 * late, 10));
    Json hits = Json::array();
    for (const auto& hit : lined.hits)
        hits.push_back (hitLineJson (times, lined, hit));
    const auto counts = desk::countsOf (lined);
    return { { "sound", lined.sound.id },
             { "name", lined.sound.name },
             { "cue", lined.cue.empty() ? Json (nullptr) : Json (lined.cue) },
             { "reel", lined.reel + 1 },
             { "start_exact", time::fractionText (lined.start) },
             { "length", rounded (lined.heard.length, 1e4) },
             { "whole",
               { { "kind", lineup::takeKindName (d.kind) },
                 { "sureness", lineup::surenessName (d.sureness) },
                 { "measured", lineJson (d) },
                 { "mistakes", mistakesJson (d) },
                 { "might_be_late_ms", might },
                 { "tuning_cents", rounded (lined.heard.tuning.cents, 10) },
                 { "tuning_concentration", rounded (lined.heard.tuning.concentration, 100) },
                 { "wrong_cue", lined.wrongCue.empty() ? Json (nullptr) : Json (lined.wrongCue) } } },
             { "sentences", lined.sentences },
             { "onsets", lined.heard.sharp.size() },
             { "within", counts.within },
             { "beyond", counts.beyond },
             { "no_clear_accent", counts.noAccent },
             { "outside", counts.outside },
             { "hits", hits },
             { "found", lined.found } };
}

void printLineUp (const spotting::BookTimes& times, const desk::SoundLineUp& lined, std::ostream& out)
{
    out << lined.sound.name << (lined.cue.empty() ? "" : ", cue " + lined.cue) << ", starts " << time::clockText (lined.start, 3)
        << " from picture start" << (times.timings.reelCount() > 1 ? " of reel " + std::to_string (lined.reel + 1) : "") << "\n";
    for (const auto& sentence : lined.sentences)
        out << "  " << sentence << "\n";
    std::vector<std::vector<std::string>> rows;
    for (const auto& hit : lined.hits)
    {
        const auto& row = times.hits[hit.row];
        std::string broken;
        for (const auto& name : hit.broken)
            broken += (broken.empty() ? "" : "; ") + name;
        rows.push_back ({ row.hit.id, row.at->timecode.empty() ? std::to_string (row.at->delivered) : row.at->timecode,
                          std::string (spotting::weightName (row.hit.weight)), oneLine (nameOf (row)), verdictText (hit),
                          hit.heard
                              ? (hit.verdict == desk::HitVerdict::within ? "within" : "beyond")
                                    + (" -" + std::to_string (row.hit.earlyMs)) + "/+" + std::to_string (row.hit.lateMs) + " ms"
                              : "",
                          broken.empty() ? (hit.heard ? "none" : "") : broken });
    }
    if (rows.empty())
        out << "  no hits to compare it with\n";
    else
        printTable ({ { "id" }, { "at" }, { "weight" }, { "hit" }, { "sound" }, { "its limits" }, { "published limits broken" } },
                    rows, out);
    const auto counts = desk::countsOf (lined);
    out << counts.within << " within their limits, " << counts.beyond << " beyond, " << counts.noAccent
        << " without a clear accent, " << counts.outside << " outside the sound\n";
}

Json gridJson (const spotting::BookTimes& times, const desk::DeliveryGrid& grid)
{
    Json columns = Json::array();
    for (std::size_t c = 0; c < grid.columns.size(); ++c)
    {
        const auto& mending = grid.mending[c];
        columns.push_back ({ { "delivery", grid.columns[c].name },
                             { "factor", mending ? Json (rounded (mending->factor, 1e7)) : Json (nullptr) },
                             { "factor_text", grid.factors[c] },
                             { "worst_ms", mending ? Json (rounded (1000 * mending->before, 10)) : Json (nullptr) },
                             { "worst_mended_ms", mending ? Json (rounded (1000 * mending->worst, 10)) : Json (nullptr) } });
    }
    Json rows = Json::array();
    for (std::size_t r = 0; r < grid.rows.size(); ++r)
    {
        const auto& hit = times.hits[grid.rows[r]];
        Json cells = Json::array();
        for (const auto& cell : grid.cells[r])
            cells.push_back ({ { "late_ms", cell.lateMs ? Json (rounded (*cell.lateMs, 10)) : Json (nullptr) },
                               { "frames", rounded (cell.frames, 100) },
                               { "verdict", cell.lateMs ? Json (desk::hitVerdictName (cell.verdict)) : Json ("lost") } });
        rows.push_back ({ { "id", hit.hit.id },
                          { "label", hit.hit.label },
                          { "as_meant", static_cast<bool> (grid.meant[r]) },
                          { "cells", cells } });
    }
    return { { "columns", columns }, { "rows", rows }, { "notes", grid.notes } };
}

void printGrid (const spotting::BookTimes& times, const desk::DeliveryGrid& grid, std::ostream& out)
{
    std::vector<Column> columns{ { "must-hit" } };
    for (const auto& column : grid.columns)
        columns.push_back ({ column.name, true });
    std::vector<std::vector<std::string>> rows;
    const auto line = [&] (const std::string& name, const auto& cell)
    {
        std::vector<std::string> texts{ name };
        for (std::size_t c = 0; c < grid.columns.size(); ++c)
            texts.push_back (cell (c));
        rows.push_back (std::move (texts));
    };
    for (std::size_t r = 0; r < grid.rows.size(); ++r)
        line (oneLine (nameOf (times.hits[grid.rows[r]])) + (grid.meant[r] ? " *" : ""),
              [&] (std::size_t c)
              {
                  const auto& cell = grid.cells[r][c];
                  return cell.lateMs ? lateText (*cell.lateMs / 1000) + (cell.verdict == desk::HitVerdict::within ? "" : " !")
                                     : std::string ("lost");
              });
    line ("one factor mends it", [&] (std::size_t c) { return grid.factors[c]; });
    line ("worst then",
          [&] (std::size_t c) { return grid.mending[c] ? numberText (1000 * grid.mending[c]->worst, 0) + " ms" : std::string(); });
    printTable (columns, rows, out);
    out << "! beyond the hit's limits\n";
    for (const auto& note : grid.notes)
        out << "* " << note << "\n";
}

Json standsJson (const std::vector<desk::SoundStand>& stands)
{
    Json list = Json::array();
    for (const auto& row : stands)
    {
        Json edits = Json::array();
        for (const auto& edit : row.edits)
            edits.push_back ({ { "at", rounded (edit.at, 1e3) },
                               { "bar", edit.bar.empty() ? Json (nullptr) : Json (edit.bar) },
                               { "seconds", rounded (edit.seconds, 1e4) },
                               { "frames", rounded (edit.frames, 100) },
                               { "beats", rounded (edit.beats, 100) } });
        list.push_back ({ { "sound", row.sound.id },
                          { "name", row.sound.name },
                          { "cue", row.cue.empty() ? Json (nullptr) : Json (row.cue) },
                          { "stand", desk::standName (row.stand) },
                          { "factor", rounded (row.factor, 1e7) },
                          { "edits", edits },
                          { "why", row.why } });
    }
    return list;
}

void printStands (const std::vector<desk::SoundStand>& stands, std::ostream& out)
{
    for (const auto& row : stands)
        out << row.sound.id << "  " << row.sound.name << (row.cue.empty() ? "" : ", cue " + row.cue) << ": "
            << desk::standName (row.stand) << "\n    " << row.why << "\n";
    if (stands.empty())
        out << "no sounds\n";
}
} // namespace shutterbeat::cli
