#pragma once

#include "desk/OpenBook.h"
#include "spotting/Times.h"

#include <nlohmann/json.hpp>

#include <ostream>

namespace shutterbeat::cli
{
using Json = nlohmann::ordered_json;

/// film_frame, file_frame, delivered_frame, timecode, clock, clock_exact, feet, reel and the rest of a place's times;
/// all null when there are none.
Json timesJson (const std::optional<film::PlaceTimes>& at);
/// A hit with its times.
Json hitJson (const spotting::HitTimes& hit);
/// A cue with its times and its hits.
Json cueJson (const spotting::BookTimes& times, const spotting::CueTimes& cue);
/// The whole document of `times --json`.
Json bookTimesJson (const spotting::BookTimes& times);

/// The same as a table for people.
void printHits (const spotting::BookTimes& times, std::ostream& out);
void printCues (const spotting::BookTimes& times, std::ostream& out);
} // namespace shutterbeat::cli
