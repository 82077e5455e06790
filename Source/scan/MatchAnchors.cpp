#include "scan/MatchAnchors.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace shutterbeat::scan
{
namespace
{
constexpr int boxesAcross = 8;
constexpr int boxesDown = 6;
constexpr std::size_t boxes = boxesAcross * boxesDown;
constexpr std::size_t bitCount = 128;
constexpr std::size_t tableCount = 16;
constexpr std::size_t bitsPerTable = 16;
constexpr std::size_t bucketCount = std::size_t{ 1 } << bitsPerTable;
constexpr std::size_t mostInBucket = 96; // a fuller one says little
constexpr std::size_t mostCompared = 8;  // pictures looked at closely for a frame
constexpr std::int64_t indexEvery = 3;   // film frames
constexpr std::int64_t askEvery = 6;     // film frames
constexpr std::int64_t askAtLeast = 8;   // times a piece
constexpr std::int64_t turnEvery = 3;    // of those, seen from behind too
constexpr float leastTexture = 5;        // less has no sketch
constexpr float alikeBelow = 0.55F;      // not yet laid over each other: a crop costs much of the likeness

using Boxes = std::array<float, boxes>;
using Keys = std::array<std::uint16_t, tableCount>;

/// Mean levels of 8 x 6 boxes of 3 x 3 cells.
Boxes boxesOf (const Fingerprint& print)
{
    Boxes sums{};
    for (int y = 0; y < Fingerprint::height; ++y)
        for (int x = 0; x < Fingerprint::width; ++x)
            sums[static_cast<std::size_t> (y / 3 * boxesAcross + x / 3)] +=
                static_cast<float> (print.cells[static_cast<std::size_t> (y * Fingerprint::width + x)]);
    return sums;
}

Boxes mirroredBoxes (const Boxes& from)
{
    Boxes other = from;
    for (int y = 0; y < boxesDown; ++y)
        std::reverse (other.begin() + y * boxesAcross, other.begin() + (y + 1) * boxesAcross);
    return other;
}

/// Which boxes each bit compares, and which bits make up the key of each table: by chance, but always the same.
struct Plan
{
    std::array<std::array<std::uint8_t, 4>, bitCount> compared{};
    std::array<std::array<std::uint8_t, bitsPerTable>, tableCount> bits{};

    Plan()
    {
        std::uint64_t state = 20260101;
        const auto below = [&] (std::size_t n)
        {
            state = state * 6364136223846793005U + 1442695040888963407U;
            return static_cast<std::uint8_t> ((state >> 33U) % n);
        };
        for (auto& four : compared)
            for (auto& box : four)
                box = below (boxes);
        for (auto& table : bits)
            for (auto& bit : table)
                bit = below (bitCount);
    }
};

const Plan& plan()
{
    static const Plan made;
    return made;
}

Keys keysOf (const Boxes& levels)
{
    std::array<bool, bitCount> bits{};
    for (std::size_t i = 0; i < bitCount; ++i)
    {
        const auto& four = plan().compared[i];
        bits[i] = levels[four[0]] + levels[four[1]] > levels[four[2]] + levels[four[3]];
    }
    Keys keys{};
    for (std::size_t t = 0; t < tableCount; ++t)
        for (const auto bit : plan().bits[t])
            keys[t] = static_cast<std::uint16_t> (2 * keys[t] + (bits[bit] ? 1 : 0));
    return keys;
}

} // namespace

/// Frames of the old print by their keys, a table after another.
class AnchorFinder::Tables
{
public:
    explicit Tables (const PrintFrames& print)
    {
        std::vector<Keys> keys;
        for (const auto& shot : print.shots)
            for (auto n = shot.first; n < shot.end; n += indexEvery)
            {
                const Fingerprint& fingerprint = print.frames[static_cast<std::size_t> (n)];
                if (textureOf (fingerprint) < leastTexture)
                    continue;
                const auto next = keysOf (boxesOf (fingerprint));
                // A still picture is kept once in a while: twice as often would only fill the tables.
                if (! keys.empty() && next == keys.back() && n - frames.back() < 8 * indexEvery && frames.back() >= shot.first)
                    continue;
                keys.push_back (next);
                frames.push_back (static_cast<std::int32_t> (n));
            }
        for (std::size_t t = 0; t < tableCount; ++t)
        {
            auto& head = heads[t];
            head.assign (bucketCount + 1, 0);
            for (const auto& key : keys)
                ++head[key[t] + std::size_t{ 1 }];
            for (std::size_t i = 1; i < head.size(); ++i)
                head[i] += head[i - 1];
            auto at = head;
            entries[t].resize (keys.size());
            for (std::size_t i = 0; i < keys.size(); ++i)
                entries[t][at[keys[i][t]]++] = frames[i];
        }
    }

    /// Frames that share most tables with the keys, best first.
    void likeliest (const Keys& keys, std::vector<std::int32_t>& found)
    {
        hits.clear();
        for (std::size_t t = 0; t < tableCount; ++t)
        {
            const auto from = heads[t][keys[t]];
            const auto to = heads[t][keys[t] + std::size_t{ 1 }];
            if (to - from <= mostInBucket)
                hits.insert (hits.end(), entries[t].begin() + from, entries[t].begin() + to);
        }
        std::sort (hits.begin(), hits.end());
        counted.clear();
        for (std::size_t i = 0; i < hits.size();)
        {
            std::size_t k = i;
            while (k < hits.size() && hits[k] == hits[i])
                ++k;
            counted.emplace_back (k - i, hits[i]);
            i = k;
        }
        const auto most = std::min (mostCompared, counted.size());
        std::partial_sort (counted.begin(), counted.begin() + static_cast<std::ptrdiff_t> (most), counted.end(),
                           [] (const auto& a, const auto& b)
                           { return a.first != b.first ? a.first > b.first : a.second < b.second; });
        found.clear();
        for (std::size_t i = 0; i < most; ++i)
            found.push_back (counted[i].second);
    }

private:
    std::vector<std::int32_t> frames;
    std::array<std::vector<std::uint32_t>, tableCount> heads;
    std::array<std::vector<std::int32_t>, tableCount> entries;
    std::vector<std::int32_t> hits;
    std::vector<std::pair<std::size_t, std::int32_t>> counted;
};
std::vector<Piece> piecesOf (const PrintFrames& print, std::int64_t longest)
{
    std::vector<Piece> pieces;
    for (std::size_t s = 0; s < print.shots.size(); ++s)
    {
        const auto& shot = print.shots[s];
        const auto parts = std::max<std::int64_t> (1, (shot.end - shot.first + longest - 1) / longest);
        for (std::int64_t i = 0; i < parts; ++i)
            if (const auto first = shot.first + (shot.end - shot.first) * i / parts,
                end = shot.first + (shot.end - shot.first) * (i + 1) / parts;
                first < end)
                pieces.push_back ({ first, end, s });
    }
    return pieces;
}

AnchorFinder::AnchorFinder (const PrintFrames& before)
    : frames (before.frames)
    , tables (std::make_unique<Tables> (before))
{
}
AnchorFinder::~AnchorFinder() = default;

void AnchorFinder::addAnchors (const PrintFrames& after, const Piece& piece, std::vector<Anchor>& anchors)
{
    const auto step = std::clamp<std::int64_t> (piece.frames() / askAtLeast, 1, askEvery);
    std::int64_t asked = 0;
    for (auto n = piece.first + step / 2; n < piece.end; n += step, ++asked)
    {
        const Fingerprint& wanted = after.frames[static_cast<std::size_t> (n)];
        if (textureOf (wanted) < leastTexture)
            continue;
        const auto straight = boxesOf (wanted);
        const bool bothWays = asked % turnEvery == 0;
        for (const bool turned : { false, true })
        {
            if (turned && ! bothWays)
                continue;
            tables->likeliest (keysOf (turned ? mirroredBoxes (straight) : straight), likely);
            const Fingerprint seen = turned ? mirrored (wanted) : wanted;
            for (const auto o : likely)
                if (const auto d = distance (frames[static_cast<std::size_t> (o)], seen); d < alikeBelow)
                    anchors.push_back ({ n, o, d, turned, bothWays });
        }
    }
}

void AnchorFinder::addLaidAnchors (const PrintFrames& after, const Piece& piece, const Layer& layer, bool turned,
                                   std::vector<Anchor>& anchors)
{
    const auto step = std::clamp<std::int64_t> (piece.frames() / (2 * askAtLeast), 1, askEvery / 2);
    LaidPrint laid;
    Fingerprint seen;
    for (auto n = piece.first + step / 2; n < piece.end; n += step)
    {
        layer.lay (after.frames[static_cast<std::size_t> (n)], laid);
        if (laid.texture < leastTexture)
            continue;
        seen.cells = laid.cells;
        tables->likeliest (keysOf (boxesOf (seen)), likely);
        for (const auto o : likely)
        {
            const Fingerprint& old = frames[static_cast<std::size_t> (o)];
            if (const auto d = laidDistance (laid, old, layer.oldNorm (old)); d < alikeBelow)
                anchors.push_back ({ n, o, d, turned, true });
        }
    }
}
} // namespace shutterbeat::scan
