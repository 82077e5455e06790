#include "scan/MatchBands.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace shutterbeat::scan
{
namespace
{
constexpr std::size_t mostPairs = 60;     // for a registration
constexpr int rounds = 3;                 // of registering and looking again
constexpr std::int64_t nearby = 10;       // film frames round an anchor
constexpr float confident = 0.45F;        // distance of a pair for a registration, first round
constexpr std::size_t mostCandidates = 3; // old pieces for a new one
constexpr float leastVote = 0.12F;        // of the best candidate's
constexpr std::int64_t rowsAPiece = 12;   // frames of a piece that are compared with every frame of a candidate
constexpr std::int64_t around = 12;       // film frames beside the candidate
constexpr std::int64_t widest = 48;       // offsets of a band in all
constexpr std::int64_t slack = 2;         // offsets on either side
constexpr std::size_t placesOff = 3;      // old pieces beside a neighbour's that are tried for what was not found
constexpr auto none = static_cast<std::size_t> (-1);
constexpr float alike = 0.42F; // once laid over each other

/// Anchors of the frames from `first` on, before `end`.
std::span<const Anchor> within (const std::vector<Anchor>& anchors, std::int64_t first, std::int64_t end)
{
    const auto below = [] (const Anchor& a, std::int64_t n) { return a.newFrame < n; };
    const auto from = std::lower_bound (anchors.begin(), anchors.end(), first, below);
    const auto to = std::lower_bound (from, anchors.end(), end, below);
    return { from, to };
}

/// A vote's worth: the closer the more.
float worth (const Anchor& anchor)
{
    return std::max (0.0F, 0.6F - anchor.distance);
}

/// How much speaks for either way round: the best anchor of each frame that was asked both ways counts.
std::array<float, 2> waysRound (std::span<const Anchor> anchors)
{
    std::array<float, 2> sums{};
    for (std::size_t i = 0; i < anchors.size();)
    {
        std::array<float, 2> best{};
        const auto n = anchors[i].newFrame;
        const bool bothWays = anchors[i].bothWays;
        for (; i < anchors.size() && anchors[i].newFrame == n; ++i)
            best[anchors[i].mirrored ? 1 : 0] = std::max (best[anchors[i].mirrored ? 1 : 0], worth (anchors[i]));
        if (! bothWays)
            continue;
        sums[0] += best[0];
        sums[1] += best[1];
    }
    return sums;
}

/// The registration of all anchors of one way round, from the best of them, looked at again with each better laying.
Registration registrationFrom (const PrintFrames& before, const PrintFrames& after, const std::vector<Anchor>& anchors, bool turned)
{
    // The best of each stretch of the film, so that no long still shot speaks for all.
    std::vector<Anchor> best;
    for (const auto& anchor : anchors)
        if (anchor.mirrored == turned && anchor.distance < confident)
        {
            if (! best.empty() && best.back().newFrame / 12 == anchor.newFrame / 12)
            {
                if (anchor.distance < best.back().distance)
                    best.back() = anchor;
            }
            else
                best.push_back (anchor);
        }
    std::vector<Anchor> chosen;
    const std::size_t wanted = std::min (mostPairs, best.size());
    for (std::size_t i = 0; i < wanted; ++i)
        chosen.push_back (best[i * best.size() / wanted]);
    Registration found;
    for (int round = 0; round < rounds; ++round)
    {
        std::vector<std::pair<Fingerprint, Fingerprint>> pairs;
        const Layer layer ({ found, turned });
        LaidPrint laid;
        for (auto& anchor : chosen)
        {
            const Fingerprint& wantedPrint = after.frames[static_cast<std::size_t> (anchor.newFrame)];
            layer.lay (wantedPrint, laid);
            anchor.distance = 2;
            const auto middle = anchor.oldFrame;
            for (auto o = std::max<std::int64_t> (0, middle - nearby);
                 o <= std::min (static_cast<std::int64_t> (before.frames.size()) - 1, middle + nearby); ++o)
            {
                const Fingerprint& old = before.frames[static_cast<std::size_t> (o)];
                if (const auto d = laidDistance (laid, old, layer.oldNorm (old)); d < anchor.distance)
                {
                    anchor.distance = d;
                    anchor.oldFrame = o;
                }
            }
            if (anchor.distance < confident)
                pairs.emplace_back (before.frames[static_cast<std::size_t> (anchor.oldFrame)],
                                    turned ? mirrored (wantedPrint) : wantedPrint);
        }
        const auto next = registrationOf (pairs);
        if (! next)
            break;
        found = *next;
    }
    return found;
}

/// Old pieces that a new one may be, likeliest first.
std::vector<std::size_t> candidatesOf (std::span<const Anchor> anchors, bool turned, const std::vector<Piece>& oldPieces)
{
    std::map<std::size_t, float> votes;
    for (std::size_t i = 0; i < anchors.size();)
    {
        std::map<std::size_t, float> here;
        const auto n = anchors[i].newFrame;
        for (; i < anchors.size() && anchors[i].newFrame == n; ++i)
        {
            if (anchors[i].mirrored != turned)
                continue;
            const auto piece =
                static_cast<std::size_t> (std::upper_bound (oldPieces.begin(), oldPieces.end(), anchors[i].oldFrame,
                                                            [] (std::int64_t frame, const Piece& p) { return frame < p.first; })
                                          - oldPieces.begin() - 1);
            here[piece] = std::max (here[piece], worth (anchors[i]));
        }
        for (const auto& [piece, vote] : here)
            votes[piece] += vote;
    }
    std::vector<std::pair<float, std::size_t>> sorted;
    for (const auto& [piece, vote] : votes)
        sorted.emplace_back (-vote, piece);
    std::sort (sorted.begin(), sorted.end());
    std::vector<std::size_t> found;
    for (const auto& [vote, piece] : sorted)
        if (found.size() < mostCandidates && vote <= leastVote * sorted.front().first)
            found.push_back (piece);
    return found;
}

/// The offsets under which a piece may be a candidate, and how good they are: every twelfth of the piece is laid over all of
/// the candidate.
std::map<std::int64_t, float> offsetsOf (const PrintFrames& before, const PrintFrames& after, const Piece& piece,
                                         const Layer& layer, std::int64_t first, std::int64_t end, float& likeness)
{
    std::map<std::int64_t, float> offsets;
    likeness = 0;
    std::vector<float> norms;
    for (auto o = first; o < end; ++o)
        norms.push_back (layer.oldNorm (before.frames[static_cast<std::size_t> (o)]));
    LaidPrint laid;
    std::vector<float> row (norms.size());
    const auto rows = std::min (rowsAPiece, piece.frames());
    for (std::int64_t r = 0; r < rows; ++r)
    {
        const auto n = piece.first + (2 * r + 1) * piece.frames() / (2 * rows);
        layer.lay (after.frames[static_cast<std::size_t> (n)], laid);
        if (laid.texture < 4)
            continue;
        float best = 2;
        for (std::size_t i = 0; i < row.size(); ++i)
        {
            row[i] = laidDistance (laid, before.frames[static_cast<std::size_t> (first) + i], norms[i]);
            best = std::min (best, row[i]);
        }
        if (best > alike)
            continue;
        likeness += alike - best;
        for (std::size_t i = 0; i < row.size(); ++i)
            if (row[i] < 1.4F * best + 0.01F)
                offsets[first + static_cast<std::int64_t> (i) - n] += (best + 0.005F) / (row[i] + 0.005F);
    }
    return offsets;
}

/// The best offsets as few bands.
void addBands (const std::map<std::int64_t, float>& offsets, std::int64_t first, std::int64_t end, std::vector<Band>& bands)
{
    if (offsets.empty())
        return;
    // Neighbours speak for each other.
    std::vector<std::pair<float, std::int64_t>> smoothed;
    for (const auto& [d, vote] : offsets)
    {
        float sum = 0;
        for (auto at = offsets.lower_bound (d - 2); at != offsets.end() && at->first <= d + 2; ++at)
            sum += at->second;
        smoothed.emplace_back (-sum, d);
    }
    std::sort (smoothed.begin(), smoothed.end());
    std::vector<std::int64_t> chosen;
    for (const auto& [vote, d] : smoothed)
        if (static_cast<std::int64_t> (chosen.size()) < widest && vote <= 0.1F * smoothed.front().first)
            chosen.push_back (d);
    std::sort (chosen.begin(), chosen.end());
    for (const auto d : chosen)
    {
        if (! bands.empty() && bands.back().first == first && bands.back().high + 1 >= d - slack && bands.back().low <= d)
            bands.back().high = d + slack;
        else
            bands.push_back ({ d - slack, d + slack, first, end });
    }
}
/// One piece laid one way round over all it may be; how much that is alike comes back.
class Laid
{
public:
    Laid (const PrintFrames& old, const PrintFrames& now, const std::vector<Piece>& pieces)
        : before (old)
        , after (now)
        , oldPieces (pieces)
    {
    }

    /// `likeliest` becomes the candidate that is most alike, where one is.
    float add (const std::vector<std::size_t>& candidates, const Layer& layer, Question& question, std::size_t& likeliest) const
    {
        float most = 0;
        for (const auto candidate : candidates)
            if (const float likeness = addCandidate (candidate, layer, question); likeness > most)
            {
                most = likeness;
                likeliest = candidate;
            }
        return most;
    }

    float addCandidate (std::size_t candidate, const Layer& layer, Question& question) const
    {
        const Piece& old = oldPieces[candidate];
        const auto first = std::max<std::int64_t> (0, old.first - around);
        const auto end = std::min (static_cast<std::int64_t> (before.frames.size()), old.end + around);
        float likeness = 0;
        addBands (offsetsOf (before, after, question.piece, layer, first, end, likeness), first, end, question.bands);
        if (likeness <= 0)
            return 0;
        // A shot that both prints have whole begins and ends with it.
        const auto& oldShot = before.shots[old.shot];
        const auto& newShot = after.shots[question.piece.shot];
        for (const auto d : { oldShot.first - newShot.first, oldShot.end - newShot.end })
            question.bands.push_back ({ d, d, first, end });
        return likeness;
    }

private:
    const PrintFrames& before;
    const PrintFrames& after;
    const std::vector<Piece>& oldPieces;
};
} // namespace

std::vector<Question> questionsOf (const PrintFrames& before, const PrintFrames& after, const std::vector<Piece>& newPieces,
                                   const std::vector<Piece>& oldPieces)
{
    AnchorFinder finder (before);
    std::vector<Anchor> anchors;
    for (const auto& piece : newPieces)
        finder.addAnchors (after, piece, anchors);
    const auto all = waysRound (anchors);
    const bool usual = all[1] > all[0];
    std::array<Laying, 2> layings{ Laying{ {}, false }, Laying{ {}, true } };
    auto& usualLaying = layings[usual ? 1 : 0];
    auto& otherLaying = layings[usual ? 0 : 1];
    usualLaying.registration = registrationFrom (before, after, anchors, usual);
    // A few shots that are the other way round were scanned with the same crop.
    otherLaying.registration = usualLaying.registration;
    otherLaying.registration.shiftX = -otherLaying.registration.shiftX;
    const std::array<Layer, 2> layers{ Layer (layings[0]), Layer (layings[1]) };
    const Laid overlaid (before, after, oldPieces);
    std::vector<Question> questions;
    std::vector<Anchor> second;
    std::vector<std::size_t> likeliest; // old piece for each question
    for (const auto& piece : newPieces)
    {
        const auto here = within (anchors, piece.first, piece.end);
        const auto ways = waysRound (here);
        Question question{ piece, layings[usual ? 1 : 0], {} };
        likeliest.push_back (none);
        float best = 0;
        for (const bool turned : { usual, ! usual })
        {
            // A picture that is nearly the same from behind is looked at the way most of the print lies all the same.
            if (turned != usual && ways[turned ? 1 : 0] < 0.5F * ways[turned ? 0 : 1])
                continue;
            Question asked{ piece, layings[turned ? 1 : 0], {} };
            std::size_t likely = none;
            const float likeness = overlaid.add (candidatesOf (here, turned, oldPieces), layers[turned ? 1 : 0], asked, likely);
            // The way most of the print lies has the benefit of the doubt.
            if (likeness > best * (turned == usual ? 1.0F : 1.3F))
            {
                best = likeness;
                question = std::move (asked);
                likeliest.back() = likely;
            }
        }
        if (question.bands.empty())
        {
            second.clear();
            finder.addLaidAnchors (after, piece, layers[usual ? 1 : 0], usual, second);
            overlaid.add (candidatesOf (second, usual, oldPieces), layers[usual ? 1 : 0], question, likeliest.back());
        }
        questions.push_back (std::move (question));
    }
    // What is too dim to be found may still be where its neighbours say.
    for (std::size_t i = 0; i < questions.size(); ++i)
    {
        if (! questions[i].bands.empty())
            continue;
        std::vector<std::size_t> near;
        for (const auto neighbour : { i - 1, i + 1 })
            if (neighbour < questions.size() && likeliest[neighbour] != none && ! questions[neighbour].bands.empty())
                for (std::size_t k = 0; k <= 2 * placesOff; ++k)
                    if (const auto piece = likeliest[neighbour] + k - placesOff; piece < oldPieces.size())
                        near.push_back (piece);
        std::sort (near.begin(), near.end());
        near.erase (std::unique (near.begin(), near.end()), near.end());
        std::size_t unused = none;
        overlaid.add (near, layers[usual ? 1 : 0], questions[i], unused);
    }
    // What a piece seems to be its neighbours may go on with, even where their own pictures tell nothing.
    const auto count = questions.size();
    std::vector<std::size_t> own;
    for (const auto& question : questions)
        own.push_back (question.bands.size());
    const auto goOn = [&] (std::size_t from, std::size_t to)
    {
        // The likeliest candidate's bands come first.
        for (std::size_t b = 0; b < std::min<std::size_t> (own[from], 2); ++b)
        {
            const Band band = questions[from].bands[b];
            const auto& piece = questions[to].piece;
            const auto low = (band.low + band.high) / 2 - 1, high = (band.low + band.high) / 2 + 1;
            questions[to].bands.push_back ({ low, high, std::max<std::int64_t> (0, piece.first + low),
                                             std::min (static_cast<std::int64_t> (before.frames.size()), piece.end + high) });
        }
    };
    for (std::size_t i = 0; i < count; ++i)
    {
        if (i > 0)
            goOn (i - 1, i);
        if (i + 1 < count)
            goOn (i + 1, i);
    }
    return questions;
}

bool mostlyMirrored (const std::vector<Question>& questions)
{
    std::int64_t turned = 0;
    for (const auto& question : questions)
        turned += question.laying.mirrored ? question.piece.frames() : -question.piece.frames();
    return turned > 0;
}
} // namespace shutterbeat::scan
