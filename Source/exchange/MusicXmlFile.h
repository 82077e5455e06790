#pragma once

#include "exchange/CsvList.h"
#include "exchange/Written.h"
#include "spotting/Times.h"

#include <string>

namespace shutterbeat::exchange
{
/// MusicXML 4.0 scores for the composer to begin in, one a cue with a tempo map: empty bars with meters, keys and tempo marks
/// (direction, metronome and sound together, since programs read one or the other; in the pickup itself when there is one),
/// accelerandi and ritardandi by name with their tempo beat by beat, fermatas at holds, free passages by name, a rehearsal
/// mark at every must, and every hit's text above the bar at its beat. A pickup is bar 0, implicit, its rest as long as it is.
/// `cue` is an id, or empty for all. Error: no such cue, or none with a tempo map.
Result<Written> writeMusicXml (const spotting::BookTimes& times, const ListHead& head, const std::string& cue = "");
} // namespace shutterbeat::exchange
