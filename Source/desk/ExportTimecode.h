#pragma once

#include "desk/Export.h"

namespace shutterbeat::desk
{
/// Writes linear timecode as WAV files of 24 bits and 48 kHz, one a reel, from picture start to picture end, with its time stamp:
/// sample n of a file is sample n of the film's grid. Whole or not at all. Error: a rate without timecode, cannotWrite, cancelled.
Result<Exported> writeLinearTimecode (const spotting::BookTimes& times, const std::string& path, const Progress& progress);
} // namespace shutterbeat::desk
