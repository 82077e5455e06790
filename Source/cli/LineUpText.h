#pragma once

#include "cli/TimesText.h"
#include "desk/LineUp.h"
#include "desk/LineUpDeliveries.h"
#include "desk/LineUpRecut.h"

namespace shutterbeat::cli
{
/// A sound against the picture, as JSON: its diagnosis, sentences, hits with late_ms.
Json lineUpJson (const spotting::BookTimes& times, const desk::SoundLineUp& lined);
/// The same for people.
void printLineUp (const spotting::BookTimes& times, const desk::SoundLineUp& lined, std::ostream& out);

Json gridJson (const spotting::BookTimes& times, const desk::DeliveryGrid& grid);
void printGrid (const spotting::BookTimes& times, const desk::DeliveryGrid& grid, std::ostream& out);

Json standsJson (const std::vector<desk::SoundStand>& stands);
void printStands (const std::vector<desk::SoundStand>& stands, std::ostream& out);
} // namespace shutterbeat::cli
