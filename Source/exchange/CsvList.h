#pragma once

#include "exchange/CsvTable.h"
#include "exchange/Written.h"
#include "spotting/Times.h"

namespace shutterbeat::exchange
{
/// All hits with all their times, one a line, in time order, lost ones last. How they were computed stands in columns
/// of its own that are the same on every line (edition, running, final_rate, fill, start, stamped, book, revision), so that
/// the file stays a plain table.
/// Columns: id, cue, cue_id, label, kind, weight, reel (from 1), film_frame, source_frame, file_frame, delivered_frame,
/// timecode, clock (seconds, two decimals), clock_exact (n/d), from_start (seconds from the cue's in, two decimals),
/// from_start_exact, feet, not_shown, lead (seconds), early_ms, late_ms, note, asked_by, agreed, from_scan, typed,
/// place, lost, and those above.
Written writeHitList (const spotting::BookTimes& times, const ListHead& head, const CsvLook& look = {});

/// All cues, one a line. Columns: id, number, title, kind, status, version, mood, bpm, note, in_place, out_place, then
/// for in and out alike in_reel, in_film_frame, in_delivered_frame, in_timecode, in_clock, in_clock_exact, in_feet,
/// then length, length_exact, hits (how many), lost, and the same columns about the list.
Written writeCueList (const spotting::BookTimes& times, const ListHead& head, const CsvLook& look = {});

/// The names of the columns of either list, in their order.
std::vector<std::string> hitListColumns();
std::vector<std::string> cueListColumns();

/// The same lists with the columns that were chosen, in that order; all of them when none is. Error: a column there is not
/// (the message lists them), or one twice.
Result<Written> writeHitList (const spotting::BookTimes& times, const ListHead& head, const CsvLook& look,
                              const std::vector<std::string>& columns);
Result<Written> writeCueList (const spotting::BookTimes& times, const ListHead& head, const CsvLook& look,
                              const std::vector<std::string>& columns);

/// A hit as a list has it. What a cell leaves empty is none, zero or "".
struct ListedHit
{
    std::int64_t line = 1;
    std::string id, cue, cueId, label;
    spotting::HitKind kind = spotting::HitKind::action;
    spotting::Weight weight = spotting::Weight::should;
    std::optional<std::int64_t> reel, filmFrame, sourceFrame, fileFrame, deliveredFrame;
    std::string timecode;
    std::optional<time::Rational> clock, clockExact, fromStart, fromStartExact; ///< seconds
    std::string feet;
    bool notShown = false;
    time::Rational lead;
    int earlyMs = 40, lateMs = 80;
    std::string note, askedBy;
    bool agreed = false, fromScan = false;
    std::string typed, place, lost;
    std::string edition, running, finalRate, fill, start, stamped, book, revision; ///< how the list was computed
};

/// A hit list as read.
struct HitList
{
    CsvLook look;
    std::vector<ListedHit> hits;
    std::vector<BadLine> bad;         ///< lines that were left out, and why
    std::vector<std::string> notUsed; ///< names of columns that mean nothing here
    std::vector<std::string> columns; ///< names of those that do
};

/// Reads what writeHitList writes, in any look, and lists made elsewhere that have at least one column saying where a
/// hit lies (place, film_frame, file_frame, delivered_frame, timecode or feet). A bad line is named, the others are kept.
/// Error: no table, or no such column.
Result<HitList> readHitList (std::string_view bytes);

/// A cue as a list has it. What a cell leaves empty is none, zero or "".
struct ListedCue
{
    std::int64_t line = 1;
    std::string id, number, title;
    spotting::CueKind kind = spotting::CueKind::music;
    spotting::CueStatus status = spotting::CueStatus::planned;
    std::string version, mood, note;
    std::optional<time::Rational> bpm;
    std::string inPlace, outPlace;
    std::optional<std::int64_t> inReel, inFilmFrame, inDelivered, outReel, outFilmFrame, outDelivered;
    std::string inTimecode, inFeet, outTimecode, outFeet;
    std::optional<time::Rational> length; ///< seconds
    std::string lost;
    std::string edition, running, finalRate, fill, start, stamped, book, revision; ///< how the list was computed
};

/// A cue list as read.
struct CueList
{
    CsvLook look;
    std::vector<ListedCue> cues;
    std::vector<BadLine> bad;
    std::vector<std::string> notUsed; ///< names of columns that mean nothing here
    std::vector<std::string> columns; ///< names of those that do
};

/// Reads what writeCueList writes, in any look and with any of its columns, and lists made elsewhere that have at least one
/// column saying where a cue begins (in_place, in_film_frame, in_delivered_frame, in_timecode or in_feet).
/// Error: no table, or no such column.
Result<CueList> readCueList (std::string_view bytes);
} // namespace shutterbeat::exchange
