#pragma once

#include "Stage.h"

namespace shutterbeat::demo
{

// Each photographs one film frame (stage.frame) of its shot. Frames named in Screenplay.cpp as gags are the ones at
// which these drawings make contact.

void harbourWide (Stage& stage);
void kitchenWhisk (Stage& stage);
void bakerClose (Stage& stage);
void clockInsert (Stage& stage);
void letterInsert (Stage& stage);
void kitchenCherry (Stage& stage);
void dogClose (Stage& stage);

void streetWide (Stage& stage);
void streetTrack (Stage& stage);
void wheelInsert (Stage& stage);
void hillRunaway (Stage& stage);
void bakerShout (Stage& stage);
void runawayTrack (Stage& stage);
void constableHalt (Stage& stage);
void chase (Stage& stage);
void marketBarrel (Stage& stage);
void dogRun (Stage& stage);
void catOnSill (Stage& stage);

void jettyRush (Stage& stage);
void jettyLeap (Stage& stage);
void jettySkid (Stage& stage);
void boatAtSea (Stage& stage);
void telescopeView (Stage& stage);
void rockWide (Stage& stage);

void watchRoomDark (Stage& stage);
void keeperSigh (Stage& stage);
void galleryWatch (Stage& stage);
void keeperAmazed (Stage& stage);
void cakeLands (Stage& stage);
void keeperTastes (Stage& stage);
void party (Stage& stage);
void candleOut (Stage& stage);
void nightBeam (Stage& stage);

/// Film frames at which something strikes, counted from the head of its shot.
inline constexpr int kHelmetFlies = 38;
inline constexpr int kBoatSplash = 34;
inline constexpr int kCakeLands = 26;

} // namespace shutterbeat::demo
