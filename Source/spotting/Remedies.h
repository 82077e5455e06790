#pragma once

#include "music/Refit.h"
#include "spotting/Carry.h"
#include "spotting/ReadingTime.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// What can be done so that picture and music meet again.
enum class RemedyKind
{
    cards, ///< lengthen or shorten cards: what is recorded stands as it is
    music, ///< beats cut or added, one bar's meter, a nudge of tempo
    again  ///< play it again from bar to bar
};

/// "cards", "music", "again".
std::string_view remedyKindName (RemedyKind kind);

/// A card that is made longer or shorter at its tail.
struct CardChange
{
    std::size_t shot = 0; ///< index into the new edition's shots
    std::string name, wording;
    std::int64_t frames = 0;        ///< film frames more; below zero fewer. 0 for a made one
    time::Rational was, becomes;    ///< seconds it stands
    std::vector<ReadingRule> rules; ///< those it kept before and keeps still
};

struct Remedy
{
    RemedyKind kind = RemedyKind::again;
    double cost = 0; ///< of music::BarCosts's units: 1 is a clear but small blemish
    std::string text;
    std::vector<CardChange> cards;
    std::int64_t hitsOff = 0;              ///< cards: hits between the change and the card, which stay beside the music
    time::Rational left;                   ///< seconds the music after it strikes late; below zero early
    std::optional<music::RefitWay> way;    ///< music
    std::int64_t firstBar = 0, endBar = 0; ///< music, again: the bars it speaks of, endBar exclusive; 0 without a tempo
};

/// One change inside a cue and what may be done, least change first.
struct InsideRemedies
{
    std::size_t cue = 0;    ///< index into Carried::cues
    std::size_t change = 0; ///< index into its inside
    std::vector<Remedy> ways;
    std::vector<std::string> notes; ///< why a kind of remedy is not among them
};

/// What cards cost; ours, common practice, no source.
struct CardCosts
{
    double card = .25;    ///< each card that is touched
    double length = 1;    ///< times the part of its length that comes or goes
    double hitOff = .5;   ///< each hit that stays beside the music
    double again = 3;     ///< to call the players together
    double againBar = .1; ///< each bar they play again
};

/// Ways for every change of a cue's length in `carried`, which `carry` made of this book. A card may become so short that it still
/// keeps every reading rule it keeps now, and longer by half, or as long as the strictest rule asks; a card without wording, or
/// that keeps no rule, is never shortened. Of what was music only steady bars between the hits on either side are changed
/// (music::refitWays). Error: as timesOf.
Result<std::vector<InsideRemedies>> remediesOf (const Book& book, const Carried& carried, const music::BarCosts& barCosts = {},
                                                const CardCosts& cardCosts = {});
} // namespace shutterbeat::spotting
