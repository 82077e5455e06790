#pragma once

#include "film/Edition.h"
#include "film/SamePictures.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::film
{
/// What became of a run of pictures from one edition to the next.
enum class ChangeKind
{
    kept,  ///< in the same order as before; only what precedes it may be longer or shorter
    moved, ///< taken out of its order and put elsewhere
    cutOut,
    added,
    remade ///< a made card, freeze or black that both have; its length or wording may differ
};

/// "kept", "moved", "cut out", "new", "remade".
std::string_view changeKindName (ChangeKind kind);

/// A run of pictures that stayed together, or one that is gone or new. Film frames are counted over the whole edition.
struct Change
{
    ChangeKind kind = ChangeKind::kept;
    std::int64_t oldFirst = -1;         ///< film frame in the old edition; -1 when new
    std::int64_t newFirst = -1;         ///< film frame in the new edition; -1 when cut out
    std::int64_t frames = 0;            ///< 0 for a made one
    std::optional<std::size_t> oldShot; ///< index in its edition
    std::optional<std::size_t> newShot;
    std::int64_t oldInShot = 0; ///< film frames from the head of its shot
    std::int64_t newInShot = 0;

    friend bool operator== (const Change&, const Change&) = default;
};

/// What happened to one shot of the old edition, or where one of the new comes from.
struct ShotFate
{
    std::string name;
    std::int64_t trimmedHead = 0; ///< film frames that are gone; below zero: that it gained
    std::int64_t trimmedTail = 0;
    bool moved = false;
    bool gone = false;  ///< nothing of it is left
    bool split = false; ///< its pictures stand in more than one place, or with others between them
};

/// From one edition to the next: which pictures went where. New-edition order; what was cut out stands where it would have
/// been.
struct ChangeList
{
    std::vector<Change> changes;
    std::int64_t oldFrames = 0; ///< film frames of either edition
    std::int64_t newFrames = 0;

    /// Where a film frame of the old edition is in the new; none: cut out. With several copies: the one of the run that stayed
    /// in its place.
    [[nodiscard]] std::optional<std::int64_t> newFrameOf (std::int64_t oldFrame) const;
    /// Where a film frame of the new edition was in the old; none: it is new.
    [[nodiscard]] std::optional<std::int64_t> oldFrameOf (std::int64_t newFrame) const;
};

/// Compares two editions by the pictures of their prints. Pictures of one print are the same where their numbers are; those
/// of different prints where `known` says so. Runs keep their order where the most film frames do (the longest rising
/// subsequence, weighted by frames); the others are moved. Made shots are the same when their ids are.
ChangeList changeList (const Edition& before, const Edition& after, const std::vector<SamePictures>& known = {});

/// The fate of every shot of the old edition, in its order.
std::vector<ShotFate> shotFates (const ChangeList& list, const Edition& before, const Edition& after);
} // namespace shutterbeat::film
