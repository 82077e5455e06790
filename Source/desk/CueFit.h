#pragma once

#include "music/BarFit.h"
#include "music/Refit.h"
#include "music/TempoFit.h"
#include "spotting/Times.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// What hits weigh in a fit of one tempo.
struct HitWeights
{
    double must = 4, should = 1, may = .25;
};

/// How a cue's hits are fitted with one tempo.
struct TempoWish
{
    music::FitWish fit; ///< its start is not looked at
    HitWeights weights;
    bool mustsBind = true;      ///< musts have to lie within their limits, else they only weigh more
    std::string start = "free"; ///< free, in (the cue's in), or a place
    std::size_t listed = 8;
    bool strong = false; ///< bar starts (and the middle of even bars) preferred
    music::Meter meter;  ///< for strong beats
};

/// A hit as it was fitted.
struct FittedHit
{
    std::size_t row = 0; ///< index into BookTimes::hits
    music::FitTarget target;
};

/// A tempo on the list.
struct ListedTempo
{
    music::FitPoint point;
    time::Rational beatsPerMinute;        ///< the same, to a ten-millionth
    time::Rational start;                 ///< seconds of the first beat from the cue's in, to the nanosecond
    std::string click;                    ///< the nearest click at the final rate: "12-4"
    time::Rational clickTempo;            ///< beats a minute of that click
    double chance = 0;                    ///< what chance alone would give
    std::vector<music::Landing> landings; ///< one a hit
    std::size_t within = 0;               ///< hits inside their limits
};

struct TempoAnswer
{
    std::vector<FittedHit> hits;
    std::vector<std::string> leftOut; ///< hits that could not be fitted, and why
    std::vector<music::FitPoint> curve;
    std::vector<double> chance;    ///< one a point of the curve
    std::vector<ListedTempo> best; ///< empty: nothing fits
    double chanceOfFit = 0;        ///< how often as many random hits would all fit somewhere in the range
    std::string obstacle;          ///< why nothing fits
};

/// Fits one tempo to a cue's hits. Error: no such cue, no hit with a place, a start that is not there, or as music::checkFit.
Result<TempoAnswer> fitTempo (const spotting::BookTimes& times, const std::string& cue, const TempoWish& wish);

/// How a cue's bars are fitted between its musts.
struct BarsWish
{
    music::BarWish bars; ///< its frame is not looked at
    HitWeights weights{ 4, 1, .25 };
    bool fromIn = true; ///< the cue's in counts as a must that bar 1 begins on, where the first must leaves room for a bar
};

struct BarsAnswer
{
    std::vector<FittedHit> hits; ///< row is BookTimes::hits.size() for the cue's in
    std::vector<std::string> leftOut;
    std::vector<std::string> notes; ///< how it was taken, for the user
    music::BarAnswer bars;
    std::string obstacle; ///< why nothing fits, with the hits by name
    time::Rational in;    ///< clock of the cue's in, the origin of bars.fit->barOne
};
Result<BarsAnswer> fitBars (const spotting::BookTimes& times, const std::string& cue, const BarsWish& wish);

/// A hit and the bar it was written on.
struct WrittenOn
{
    std::string hit; ///< id
    std::int64_t bar = 1;
};

struct RefitAnswer
{
    music::RefitWish wish;
    std::vector<music::RefitWay> ways;
    time::Rational change; ///< seconds that the picture between the two hits is longer now
};
/// After a recut or a change of speed: the ways to make the written bars between two hits meet both again.
/// Error: a cue without a tempo map, hits that are lost, bars in the wrong order, or as music::refitWays.
Result<RefitAnswer> refit (const spotting::BookTimes& times, const std::string& cue, const WrittenOn& first,
                           const WrittenOn& second, music::RefitWish wish);

/// The book with a tempo map set in a cue and bar 1 pinned `fromIn` seconds after its in. Error: no such cue, or the map's own.
Result<spotting::Book> withTempo (const spotting::Book& book, const std::string& cue, const Result<music::TempoMap>& map,
                                  const time::Rational& fromIn);

/// The same, bar 1 left where it is pinned.
Result<spotting::Book> withPinnedTempo (const spotting::Book& book, const std::string& cue, const music::TempoMap& map);

/// "Door slams at 0:12.50" for messages.
std::string hitAtText (const spotting::HitTimes& hit);
} // namespace shutterbeat::desk
