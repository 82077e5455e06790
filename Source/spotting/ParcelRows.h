#pragma once

#include "spotting/Parcel.h"
#include "spotting/Times.h"

#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// Hits and cues as a parcel made now would hold them, in time order, cues first, and how the film is delivered.
SentState sentState (const BookTimes& times);

/// The last parcel a person got, or null.
const Parcel* lastParcel (const std::vector<Parcel>& parcels, const std::string& person);

/// What changed from one state to a later one, a sentence each: how it is delivered, cues and hits that are new, gone, moved, or
/// said otherwise. Shifts are in delivered frames where both were delivered alike, else in film frames. Empty when nothing did.
std::vector<std::string> changesBetween (const SentState& before, const SentState& after);

/// The same since a parcel.
std::vector<std::string> changesSince (const Parcel& before, const BookTimes& times);
} // namespace shutterbeat::spotting
