#pragma once

#include "Cards.h"
#include "Stage.h"
#include "Wear.h"

#include <string>
#include <vector>

namespace shutterbeat::demo
{

enum class ShotKind
{
    action,
    card,
    black
};

/// Something that strikes, at a film frame counted from the head of its shot.
struct Gag
{
    int frame = -1;
    std::string what;
};

/// One shot as photographed. Lengths and places are in film frames.
struct Shot
{
    std::string name;
    ShotKind kind = ShotKind::action;
    int length = 0;
    void (*photograph) (Stage&) = nullptr;
    CardLook look = CardLook::words;
    std::string words;
    Gag gag;
    int irisIn = 0;
    int irisOut = 0;
    int fadeOut = 0;
    Point irisAt{ 320, 240 };
};

/// A stretch of a shot used in an edition, from film frame `from` of the shot on.
struct Take
{
    Shot shot;
    int from = 0;
    int length() const { return shot.length - from; }
};

struct Change
{
    std::string kind; ///< moved, card-longer, trimmed-head, new, gone
    std::vector<std::string> shots;
    std::string note;
    int filmFrames = 0; ///< how many, where it is a matter of length
};

struct EditionPlan
{
    std::string letter;
    std::vector<Take> takes;
    std::vector<Change> changes; ///< against edition A
    WearLook wear;
    int filmFrames() const;
};

/// The locked cut.
EditionPlan editionA();
/// The recut, from another print.
EditionPlan editionB();

/// Draws film frame `frame` (counted from the head of the whole shot) of a shot on the stage.
void photograph (Stage& stage, const Shot& shot, int frame);
/// File frame (25 a second) at which a film frame (20 a second) first shows: each source floor(j*20/25).
int firstFileFrame (int filmFrame);
/// Film frame shown by a file frame.
int filmFrameAt (int fileFrame);

} // namespace shutterbeat::demo
