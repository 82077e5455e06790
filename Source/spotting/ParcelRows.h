#pragma once

#include "spotting/Parcel.h"
#include "spotting/Times.h"

#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// Hits and cues as a parcel made now would hold them, in time order, cues first.
std::vector<SentRow> sentRows (const BookTimes& times);

/// The last parcel a person got, or null.
const Parcel* lastParcel (const std::vector<Parcel>& parcels, const std::string& person);

/// What changed since a parcel, a sentence each: how it is delivered, cues and hits that are new, gone, moved, or said otherwise.
/// Shifts are in delivered frames where both were delivered alike, else in film frames. Empty when nothing did.
std::vector<std::string> changesSince (const Parcel& before, const BookTimes& times);
} // namespace shutterbeat::spotting
