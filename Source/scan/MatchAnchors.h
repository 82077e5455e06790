#pragma once

#include "scan/Match.h"
#include "scan/MatchLaid.h"

#include <cstdint>
#include <memory>
#include <span>
#include <vector>

namespace shutterbeat::scan
{
/// A stretch of one shot, short enough to be compared whole.
struct Piece
{
    std::int64_t first = 0;
    std::int64_t end = 0;
    std::size_t shot = 0;

    [[nodiscard]] std::int64_t frames() const { return end - first; }
};

/// The shots of a print in pieces of at most `longest` frames.
std::vector<Piece> piecesOf (const PrintFrames& print, std::int64_t longest);

/// A frame of the new print and one of the old that look alike at first sight.
struct Anchor
{
    std::int64_t newFrame = 0;
    std::int64_t oldFrame = 0;
    float distance = 1;
    bool mirrored = false;
    bool bothWays = false; ///< its new frame was looked for straight and seen from behind
};

/// Finds pictures of an old print that look like those of a new one, through tables of rough sketches, so that the cost grows
/// with the length of the prints and not with its square.
class AnchorFinder
{
public:
    /// The print's fingerprints have to stay where they are.
    explicit AnchorFinder (const PrintFrames& before);
    ~AnchorFinder();
    AnchorFinder (const AnchorFinder&) = delete;
    AnchorFinder& operator= (const AnchorFinder&) = delete;

    /// Adds anchors for a few frames of a piece, some of them looked for seen from behind too.
    void addAnchors (const PrintFrames& after, const Piece& piece, std::vector<Anchor>& anchors);
    /// The same once it is known how the prints lie over each other: for pieces that were not found at first sight; twice as
    /// many frames, one way round.
    void addLaidAnchors (const PrintFrames& after, const Piece& piece, const Layer& layer, bool turned,
                         std::vector<Anchor>& anchors);

private:
    class Tables;
    std::span<const Fingerprint> frames;
    std::unique_ptr<Tables> tables;
    std::vector<std::int32_t> likely;
};
} // namespace shutterbeat::scan
