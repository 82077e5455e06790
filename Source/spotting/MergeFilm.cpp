#include "spotting/MergeFilm.h"

namespace shutterbeat::spotting
{
namespace
{
/// Which pictures follow each other: the shots without what is said of them, and where reels begin.
struct CutList
{
    std::vector<film::Shot> shots;
    std::vector<std::size_t> reels;

    friend bool operator== (const CutList&, const CutList&) = default;
};

CutList cutListOf (const film::Edition& edition)
{
    CutList list;
    for (const auto& shot : edition.shots)
    {
        film::Shot bare;
        bare.id = shot.id;
        bare.print = shot.print;
        bare.first = shot.first;
        bare.end = shot.end;
        bare.made = shot.made;
        list.shots.push_back (std::move (bare));
    }
    for (const auto& reel : edition.reels)
        list.reels.push_back (reel.firstShot);
    return list;
}

std::string valueText (const CutList& list)
{
    std::int64_t frames = 0;
    for (const auto& shot : list.shots)
        frames += shot.frames();
    return std::to_string (list.shots.size()) + " shots of " + std::to_string (frames) + " film frames in "
           + std::to_string (list.reels.size()) + " reel(s)";
}

/// Each use of each shot, by id and how many uses came before it.
std::map<std::string, const film::Shot*> usesOf (const film::Edition& edition)
{
    std::map<std::string, const film::Shot*> uses;
    std::map<std::string, int> count;
    for (const auto& shot : edition.shots)
        if (const int n = count[shot.id]++; n == 0)
            uses[shot.id] = &shot;
        else
            uses[shot.id + "#" + std::to_string (n + 1)] = &shot;
    return uses;
}

/// Everything said of a shot but its cuts.
film::Shot mergeWords (MergeLog& log, const MergeItem& item, film::Shot cut, const film::Shot& base, const film::Shot& mine,
                       const film::Shot& theirs)
{
    const auto field = [&] (const char* name, auto member)
    { cut.*member = mergeField (log, item, name, base.*member, mine.*member, theirs.*member); };
    field ("name", &film::Shot::name);
    field ("kind", &film::Shot::kind);
    field ("speed", &film::Shot::speed);
    field ("wording", &film::Shot::wording);
    field ("remade", &film::Shot::remade);
    field ("reason", &film::Shot::reason);
    field ("strength", &film::Shot::strength);
    field ("locked", &film::Shot::locked);
    cut.unknown = mergeUnknown (log, item, base.unknown, mine.unknown, theirs.unknown);
    return cut;
}

/// True when only the cuts differ.
bool sameWords (film::Shot a, const film::Shot& b)
{
    a.print = b.print;
    a.first = b.first;
    a.end = b.end;
    a.made = b.made;
    return a == b;
}
} // namespace

film::Print mergePrint (MergeLog& log, const MergeItem& item, const film::Print& base, const film::Print& mine,
                        const film::Print& theirs)
{
    auto merged = mine;
    merged.name = mergeField (log, item, "name", base.name, mine.name, theirs.name);
    merged.gauge = mergeField (log, item, "gauge", base.gauge, mine.gauge, theirs.gauge);
    merged.scanned = mergeField (log, item, "scan", base.scanned, mine.scanned, theirs.scanned);
    merged.unknown = mergeUnknown (log, item, base.unknown, mine.unknown, theirs.unknown);
    if (mine.reels.size() != base.reels.size() || theirs.reels.size() != base.reels.size())
    {
        merged.reels = mergeField (log, item, "files", base.reels, mine.reels, theirs.reels);
        return merged;
    }
    for (std::size_t r = 0; r < mine.reels.size(); ++r)
    {
        const auto at = [&] (const film::ReelFile& reel)
        {
            auto facts = reel;
            facts.path = mine.reels[r].path;
            facts.workingCopy = mine.reels[r].workingCopy;
            facts.workingIdentity = mine.reels[r].workingIdentity;
            return facts;
        };
        if (theirs.reels[r].path != base.reels[r].path && theirs.reels[r].path != mine.reels[r].path)
            log.notes.push_back (item.what + ": theirs lies at " + theirs.reels[r].path + " there; the path here is kept");
        merged.reels[r] =
            mergeField (log, item, "file " + std::to_string (r + 1), at (base.reels[r]), mine.reels[r], at (theirs.reels[r]));
    }
    return merged;
}

film::Edition mergeEdition (MergeLog& log, const MergeItem& item, const film::Edition& base, const film::Edition& mine,
                            const film::Edition& theirs)
{
    auto merged = mine;
    merged.parent = mergeField (log, item, "parent", base.parent, mine.parent, theirs.parent);
    merged.speed = mergeField (log, item, "running speed", base.speed, mine.speed, theirs.speed);
    merged.unknown = mergeUnknown (log, item, base.unknown, mine.unknown, theirs.unknown);
    const auto cuts = mergeField (log, item, "cuts", cutListOf (base), cutListOf (mine), cutListOf (theirs));
    const bool cutsTheirs = ! (cuts == cutListOf (mine));
    // Start labels are a reel's own, whatever its shots.
    merged.reels = cutsTheirs ? theirs.reels : mine.reels;
    if (mine.reels.size() == base.reels.size() && theirs.reels.size() == base.reels.size())
        for (std::size_t r = 0; r < base.reels.size(); ++r)
            merged.reels[r].startLabel = mergeField (log, item, "start of reel " + std::to_string (r + 1), base.reels[r].startLabel,
                                                     mine.reels[r].startLabel, theirs.reels[r].startLabel);

    const auto inBase = usesOf (base), inMine = usesOf (mine), inTheirs = usesOf (theirs);
    const auto at = [] (const std::map<std::string, const film::Shot*>& uses, const std::string& key) -> const film::Shot*
    {
        const auto found = uses.find (key);
        return found == uses.end() ? nullptr : found->second;
    };
    merged.shots = cutsTheirs ? theirs.shots : mine.shots;
    const auto kept = usesOf (merged);
    std::map<const film::Shot*, std::string> keyOf;
    for (const auto& [key, shot] : kept)
        keyOf[shot] = key;
    auto shots = merged.shots;
    const auto named = [&] (const std::string& key, const film::Shot& shot) {
        return MergeItem{ item.key + "." + key, item.what + " shot " + (shot.name.empty() ? key : shot.name) };
    };
    for (std::size_t i = 0; i < shots.size(); ++i)
    {
        const auto& key = keyOf[&merged.shots[i]];
        const auto* before = at (inBase, key);
        const auto* here = at (inMine, key);
        const auto* there = at (inTheirs, key);
        if (here != nullptr && there != nullptr)
            shots[i] = mergeWords (log, named (key, *here), shots[i], before != nullptr ? *before : film::Shot{}, *here, *there);
    }
    // What was said of a shot that the other side's cuts no longer have can't be kept in the book, but is told.
    for (const auto* side : { &inMine, &inTheirs })
        for (const auto& [key, shot] : *side)
        {
            const auto* before = at (inBase, key);
            if (kept.count (key) > 0 || (before != nullptr && sameWords (*shot, *before)))
                continue;
            const bool isMine = side == &inMine;
            const auto said =
                "kind " + valueText (shot->kind) + ", wording " + valueText (shot->wording) + ", speed " + valueText (shot->speed);
            log.conflicts.push_back ({ item.key + "." + key, named (key, *shot).what, "shot",
                                       before != nullptr ? "there" : "(none)", isMine ? said : "gone", isMine ? "gone" : said,
                                       isMine });
        }
    merged.shots = std::move (shots);
    return merged;
}
} // namespace shutterbeat::spotting
