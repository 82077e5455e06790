#pragma once

#include "film/ChangeList.h"
#include "spotting/Times.h"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::spotting
{
/// What became of a place from one edition to another.
enum class Fate
{
    unmoved,
    moved, ///< its picture, or its shot, is elsewhere
    lost,  ///< its picture (or shot and successor) is gone; the hit stays in the book
    back   ///< the old edition did not have it
};

/// "unmoved", "moved", "lost", "back".
std::string_view fateName (Fate fate);

/// A place in both editions.
struct CarriedPlace
{
    Fate fate = Fate::lost;
    std::optional<film::PlaceTimes> before, after; ///< with the film frame counted from its reel
    std::int64_t frames = 0;                       ///< film frames it moved by over the whole edition; later is above zero
    std::int64_t delivered = 0;                    ///< delivered frames it moved by
    std::int64_t trimmed = 0; ///< an edge: film frames of its shot that are gone at it; below zero: that were put in
    std::string why;          ///< lost: what is gone
};

/// A hit in both editions.
struct CarriedHit
{
    HitPoint hit;
    CarriedPlace place;
    std::optional<std::int64_t> interval; ///< film frames more since the hit before it; none: no such hit in both
    std::optional<std::int64_t> intervalDelivered;
    bool phase = false;      ///< as many film frames since the hit before it, but a delivered frame or so more or less
    std::string lastPicture; ///< lost: where it was, as a place is written in the old edition
};

/// Pictures taken out of a cue, or put into it, at one spot.
struct InsideChange
{
    std::int64_t oldFrame = 0; ///< film frame of the old edition (all reels) where it happens
    std::int64_t newFrame = 0; ///< and of the new
    std::int64_t out = 0;      ///< film frames that are gone
    std::int64_t in = 0;       ///< film frames that are new here
    time::Rational seconds;    ///< that the music has more here; below zero: less
    time::Rational cueSeconds; ///< from the cue's in, in the old edition
    std::string bar;           ///< "bar 12 beat 3" where the cue has a tempo map
};

/// A cue in both editions, and what happened inside it.
struct CarriedCue
{
    Cue cue;
    CarriedPlace in, out;
    std::optional<std::int64_t> frames;    ///< film frames longer
    std::optional<time::Rational> seconds; ///< clock seconds longer
    std::vector<InsideChange> inside;
};

/// All of a book's decisions from one edition to another. Hits and cues in the order of the old edition.
struct Carried
{
    std::string before, after; ///< letters
    film::ChangeList changes;
    std::vector<CarriedHit> hits;
    std::vector<CarriedCue> cues;
    std::vector<std::string> conflicts; ///< hits outside their cue, outs before their ins; nothing is reassigned
};

/// Compares where everything lies in two editions of a book at its delivery; film::Timings finds the pictures, nothing in the
/// book is changed. Error: an edition the book has not; as timesOf.
Result<Carried> carry (const Book& book, const std::string& before, const std::string& after);
} // namespace shutterbeat::spotting
