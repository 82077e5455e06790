#pragma once

#include "spotting/Book.h"

#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// Values of a book's fields as a merge shows them: short, for people. An empty text is "(none)".
std::string valueText (const std::string& value);
std::string valueText (bool value);
std::string valueText (int value);
std::string valueText (std::int64_t value);
std::string valueText (double value);
std::string valueText (const time::Rational& value);
std::string valueText (const film::Place& value);
std::string valueText (const film::Delivery& value);
std::string valueText (const time::Gauge& value);
std::string valueText (const BarOne& value);
std::string valueText (const SoundPlace& value);
std::string valueText (const MadeFor& value);
std::string valueText (const music::TempoMap& value);
std::string valueText (const std::vector<Interest>& value);
std::string valueText (const std::vector<film::ScannedShot>& value);
std::string valueText (const film::ReelFile& value);
std::string valueText (const std::vector<film::ReelFile>& value);
std::string valueText (HitKind value);
std::string valueText (Weight value);
std::string valueText (CueKind value);
std::string valueText (CueStatus value);
std::string valueText (SoundKind value);
std::string valueText (PlacedBy value);
std::string valueText (ShareSum value);
std::string valueText (Answer value);
std::string valueText (film::ShotKind value);

template <class T>
std::string valueText (const std::optional<T>& value)
{
    return value ? valueText (*value) : "(none)";
}
} // namespace shutterbeat::spotting
