#pragma once

#include "media/IndexedFilm.h"
#include "time/Rational.h"

namespace shutterbeat::media
{
/// Fills in index and info (frames, rate, numbers, warnings) of a film whose stream is a sequence of picture files, from
/// their names and the header of the first; nothing else of them is read. declaredRate: as openFilm.
void describeSequence (IndexedFilm& film, const time::Rational& declaredRate);
} // namespace shutterbeat::media
