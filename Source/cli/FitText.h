#pragma once

#include "cli/TimesText.h"
#include "desk/CueFit.h"

namespace shutterbeat::cli
{
/// The answers of `fit` as one JSON document each.
Json tempoAnswerJson (const spotting::BookTimes& times, const spotting::Cue& cue, const desk::TempoWish& wish,
                      const desk::TempoAnswer& answer);
Json barsAnswerJson (const spotting::BookTimes& times, const spotting::Cue& cue, const desk::BarsWish& wish,
                     const desk::BarsAnswer& answer);
Json refitJson (const spotting::Cue& cue, const desk::RefitAnswer& answer);

/// The same as tables for people.
void printTempoAnswer (const spotting::BookTimes& times, const spotting::Cue& cue, const desk::TempoWish& wish,
                       const desk::TempoAnswer& answer, std::ostream& out);
void printBarsAnswer (const spotting::BookTimes& times, const spotting::Cue& cue, const desk::BarsWish& wish,
                      const desk::BarsAnswer& answer, std::ostream& out);
void printRefit (const spotting::Cue& cue, const desk::RefitAnswer& answer, std::ostream& out);
} // namespace shutterbeat::cli
