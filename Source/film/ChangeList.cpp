#include "film/ChangeList.h"

#include <algorithm>
#include <map>

namespace shutterbeat::film
{
namespace
{
/// A shot of an edition as a run of source frames, with its film frame in the edition.
struct Run
{
    std::size_t shot = 0;
    SourceFrame source;
    std::int64_t first = 0;
    std::int64_t frames = 0;
};

std::vector<Run> runsOf (const Edition& edition)
{
    std::vector<Run> runs;
    std::int64_t first = 0;
    for (std::size_t i = 0; i < edition.shots.size(); ++i)
    {
        const Shot& shot = edition.shots[i];
        if (! shot.made)
            runs.push_back ({ i, { shot.print, shot.first }, first, shot.frames() });
        first += shot.frames();
    }
    return runs;
}

/// A stretch of pictures that both editions show.
struct Shared
{
    const Run* before = nullptr;
    const Run* after = nullptr;
    std::int64_t oldFirst = 0, newFirst = 0, frames = 0;
    bool sameShot = false;
};

/// What `before` and `after` share when `after`'s pictures, told in the numbers of `before`'s print, begin at `source`.
void share (const Run& before, const Run& after, std::int64_t source, std::int64_t offset, std::int64_t frames, bool sameShot,
            std::vector<Shared>& all)
{
    const std::int64_t first = std::max (before.source.frame, source);
    const std::int64_t end = std::min (before.source.frame + before.frames, source + frames);
    if (first < end)
        all.push_back ({ &before, &after, before.first + first - before.source.frame, after.first + offset + first - source,
                         end - first, sameShot });
}

struct Known;

/// Pictures of a print that another has, too.
struct Link
{
    std::int64_t first = 0, frames = 0;
    const Known* other = nullptr;
    std::int64_t otherFirst = 0;
};

struct Known
{
    std::string name;
    std::vector<Link> links;
};

using KnownPrints = std::map<std::string, Known>;

KnownPrints printsOf (const std::vector<Run>& runs, const std::vector<SamePictures>& known)
{
    KnownPrints prints;
    const auto named = [&] (const std::string& name) -> Known&
    {
        auto& print = prints[name];
        print.name = name;
        return print;
    };
    for (const auto& run : runs)
        named (run.source.print);
    for (const auto& same : known)
    {
        auto &one = named (same.print), &other = named (same.other);
        one.links.push_back ({ same.first, same.frames, &other, same.otherFirst });
        other.links.push_back ({ same.otherFirst, same.frames, &one, same.first });
    }
    return prints;
}

/// A picture lies in a handful of prints. A book that says it lies in itself one frame later, and so on without end, is told no
/// further than what is said of the run itself.
constexpr std::size_t mostTold = 64;

/// The stretches of a run as other prints number them, itself included.
struct Told
{
    const Known* print = nullptr;
    std::int64_t frame = 0;              ///< of the print
    std::int64_t offset = 0, frames = 0; ///< within the run
};

std::vector<Told> toldOf (const Run& run, const KnownPrints& prints)
{
    std::vector<Told> all{ { &prints.at (run.source.print), run.source.frame, 0, run.frames } };
    // By print and by how its numbers lie against those of the run.
    std::map<std::pair<const Known*, std::int64_t>, std::vector<std::size_t>> alike;
    alike[{ all[0].print, all[0].frame }].push_back (0);
    for (std::size_t i = 0; i < all.size(); ++i)
    {
        const Told told = all[i];
        for (const auto& link : told.print->links)
        {
            if (i > 0 && all.size() >= mostTold)
                return all;
            const auto first = std::max (told.frame, link.first);
            const auto end = std::min (told.frame + told.frames, link.first + link.frames);
            if (first >= end)
                continue;
            const Told next{ link.other, link.otherFirst + first - link.first, told.offset + first - told.frame, end - first };
            auto& before = alike[{ next.print, next.frame - next.offset }];
            if (std::none_of (before.begin(), before.end(),
                              [&] (std::size_t k) {
                                  return all[k].offset <= next.offset && all[k].offset + all[k].frames >= next.offset + next.frames;
                              }))
            {
                before.push_back (all.size());
                all.push_back (next);
            }
        }
    }
    return all;
}

using Stretches = std::map<std::int64_t, std::int64_t>; // first and end, disjoint

/// The parts of [first, end) that are in a set of disjoint stretches.
std::vector<std::pair<std::int64_t, std::int64_t>> within (const Stretches& free, std::int64_t first, std::int64_t end)
{
    std::vector<std::pair<std::int64_t, std::int64_t>> parts;
    auto at = free.upper_bound (first);
    if (at != free.begin())
        --at;
    for (; at != free.end() && at->first < end; ++at)
        if (const auto a = std::max (at->first, first), b = std::min (at->second, end); a < b)
            parts.push_back ({ a, b });
    return parts;
}

/// Takes [first, end) out of a set of disjoint stretches and gives the parts that were in it.
std::vector<std::pair<std::int64_t, std::int64_t>> take (Stretches& free, std::int64_t first, std::int64_t end)
{
    auto parts = within (free, first, end);
    for (const auto& [a, b] : parts)
    {
        const auto at = std::prev (free.upper_bound (a));
        const auto [from, to] = *at;
        free.erase (at);
        if (from < a)
            free[from] = a;
        if (b < to)
            free[b] = to;
    }
    return parts;
}

/// Marks as kept the runs that rise together and hold the most film frames; the others are moved.
void markMoved (std::vector<Change>& runs)
{
    // By weight over a Fenwick tree of old positions: runs are in the order of the new edition.
    std::vector<std::int64_t> olds;
    for (const auto& run : runs)
        olds.push_back (run.oldFirst);
    std::sort (olds.begin(), olds.end());
    struct Best
    {
        std::int64_t weight = 0;
        std::ptrdiff_t run = -1;
    };
    std::vector<Best> tree (olds.size() + 1);
    std::vector<std::ptrdiff_t> previous (runs.size(), -1);
    Best top;
    for (std::size_t i = 0; i < runs.size(); ++i)
    {
        const auto rank = static_cast<std::size_t> (std::lower_bound (olds.begin(), olds.end(), runs[i].oldFirst) - olds.begin());
        Best under;
        for (auto k = rank; k > 0; k &= k - 1)
            if (tree[k].weight > under.weight)
                under = tree[k];
        previous[i] = under.run;
        const Best here{ under.weight + runs[i].frames, static_cast<std::ptrdiff_t> (i) };
        for (auto k = rank + 1; k < tree.size(); k += k & (~k + 1))
            if (here.weight > tree[k].weight)
                tree[k] = here;
        if (here.weight > top.weight)
            top = here;
    }
    for (auto& run : runs)
        run.kind = ChangeKind::moved;
    for (auto i = top.run; i >= 0; i = previous[static_cast<std::size_t> (i)])
        runs[static_cast<std::size_t> (i)].kind = ChangeKind::kept;
}
} // namespace

std::string_view changeKindName (ChangeKind kind)
{
    switch (kind)
    {
    case ChangeKind::kept:
        return "kept";
    case ChangeKind::moved:
        return "moved";
    case ChangeKind::cutOut:
        return "cut out";
    case ChangeKind::added:
        return "new";
    case ChangeKind::remade:
        break;
    }
    return "remade";
}

std::optional<std::int64_t> ChangeList::newFrameOf (std::int64_t oldFrame) const
{
    std::optional<std::int64_t> found;
    for (const auto& change : changes)
        if (change.newFirst >= 0 && change.oldFirst >= 0 && oldFrame >= change.oldFirst
            && oldFrame < change.oldFirst + change.frames && (! found || change.kind == ChangeKind::kept))
            found = change.newFirst + oldFrame - change.oldFirst;
    return found;
}

std::optional<std::int64_t> ChangeList::oldFrameOf (std::int64_t newFrame) const
{
    for (const auto& change : changes)
        if (change.newFirst >= 0 && change.oldFirst >= 0 && newFrame >= change.newFirst
            && newFrame < change.newFirst + change.frames)
            return change.oldFirst + newFrame - change.newFirst;
    return {};
}

ChangeList changeList (const Edition& before, const Edition& after, const std::vector<SamePictures>& known)
{
    const auto olds = runsOf (before), news = runsOf (after);
    ChangeList list;
    for (const auto& run : olds)
        list.oldFrames += run.frames;
    for (const auto& run : news)
        list.newFrames += run.frames;

    // Everything the two may share; pictures that stand in several shots are given out to the likeliest first.
    std::multimap<std::string, const Run*> byPrint;
    for (const auto& run : olds)
        byPrint.emplace (run.source.print, &run);
    const auto prints = printsOf (news, known);
    std::vector<Shared> shared;
    for (const auto& run : news)
        for (const auto& told : toldOf (run, prints))
            for (auto [at, end] = byPrint.equal_range (told.print->name); at != end; ++at)
                share (*at->second, run, told.frame, told.offset, told.frames,
                       before.shots[at->second->shot].id == after.shots[run.shot].id, shared);
    // Uses of a shot that both show several times keep their order; longer stretches come before shorter ones.
    std::stable_sort (shared.begin(), shared.end(),
                      [] (const Shared& a, const Shared& b)
                      {
                          if (a.sameShot != b.sameShot)
                              return a.sameShot;
                          if (a.frames != b.frames)
                              return a.frames > b.frames;
                          if (a.newFirst != b.newFirst)
                              return a.newFirst < b.newFirst;
                          return a.oldFirst < b.oldFirst;
                      });
    Stretches oldFree, newFree;
    if (list.oldFrames > 0)
        oldFree[0] = list.oldFrames;
    if (list.newFrames > 0)
        newFree[0] = list.newFrames;
    std::vector<Change> runs;
    const auto add = [&] (const Shared& s, std::int64_t from, std::int64_t to)
    {
        const std::int64_t old = s.oldFirst + from - s.newFirst;
        runs.push_back ({ ChangeKind::kept, old, from, to - from, s.before->shot, s.after->shot, old - s.before->first,
                          from - s.after->first });
    };
    for (const auto& s : shared)
    {
        // First pictures that neither has given away, so that of two uses each gets its own.
        for (const auto& [a, b] : within (oldFree, s.oldFirst, s.oldFirst + s.frames))
            for (const auto& [from, to] : take (newFree, a - s.oldFirst + s.newFirst, b - s.oldFirst + s.newFirst))
            {
                take (oldFree, from - s.newFirst + s.oldFirst, to - s.newFirst + s.oldFirst);
                add (s, from, to);
            }
    }
    // What is shown again has its picture from a run that is in its place already.
    for (const auto& s : shared)
        for (const auto& [from, to] : take (newFree, s.newFirst, s.newFirst + s.frames))
            add (s, from, to);
    std::sort (runs.begin(), runs.end(), [] (const Change& a, const Change& b) { return a.newFirst < b.newFirst; });
    markMoved (runs);

    for (const auto& run : news)
        for (const auto& [from, to] : std::vector<std::pair<std::int64_t, std::int64_t>> (newFree.begin(), newFree.end()))
            if (const auto a = std::max (from, run.first), b = std::min (to, run.first + run.frames); a < b)
                runs.push_back ({ ChangeKind::added, -1, a, b - a, {}, run.shot, 0, a - run.first });
    std::int64_t first = 0;
    for (std::size_t i = 0; i < after.shots.size(); ++i)
    {
        const auto& shot = after.shots[i];
        if (shot.made)
        {
            Change change{ ChangeKind::added, -1, first, 0, {}, i, 0, 0 };
            std::int64_t oldFirst = 0;
            for (std::size_t k = 0; k < before.shots.size(); oldFirst += before.shots[k].frames(), ++k)
                if (before.shots[k].id == shot.id && ! change.oldShot)
                {
                    change.kind = before.shots[k].made == shot.made && before.shots[k].wording == shot.wording ? ChangeKind::kept
                                                                                                               : ChangeKind::remade;
                    change.oldShot = k;
                    change.oldFirst = oldFirst;
                }
            runs.push_back (change);
        }
        first += shot.frames();
    }
    std::stable_sort (runs.begin(), runs.end(),
                      [] (const Change& a, const Change& b)
                      { return a.newFirst != b.newFirst ? a.newFirst < b.newFirst : a.newShot < b.newShot; });

    // What was cut out goes behind the last run that stayed in order before it.
    std::vector<Change> gone;
    for (const auto& run : olds)
        for (const auto& [from, to] : std::vector<std::pair<std::int64_t, std::int64_t>> (oldFree.begin(), oldFree.end()))
            if (const auto a = std::max (from, run.first), b = std::min (to, run.first + run.frames); a < b)
                gone.push_back ({ ChangeKind::cutOut, a, -1, b - a, run.shot, {}, a - run.first, 0 });
    std::int64_t oldAt = 0;
    for (std::size_t k = 0; k < before.shots.size(); oldAt += before.shots[k].frames(), ++k)
        if (before.shots[k].made
            && std::none_of (after.shots.begin(), after.shots.end(), [&] (const Shot& s) { return s.id == before.shots[k].id; }))
            gone.push_back ({ ChangeKind::cutOut, oldAt, -1, 0, k, {}, 0, 0 });
    std::stable_sort (gone.begin(), gone.end(),
                      [] (const Change& a, const Change& b)
                      { return a.oldFirst != b.oldFirst ? a.oldFirst < b.oldFirst : a.oldShot < b.oldShot; });
    auto next = gone.begin();
    for (auto& run : runs)
    {
        if (run.kind == ChangeKind::kept && run.oldFirst >= 0)
            while (next != gone.end() && next->oldFirst < run.oldFirst)
                list.changes.push_back (*next++);
        list.changes.push_back (run);
    }
    list.changes.insert (list.changes.end(), next, gone.end());
    return list;
}

std::vector<ShotFate> shotFates (const ChangeList& list, const Edition& before, const Edition& after)
{
    std::vector<ShotFate> fates;
    for (std::size_t i = 0; i < before.shots.size(); ++i)
    {
        const auto& shot = before.shots[i];
        ShotFate fate;
        fate.name = shot.name;
        std::vector<const Change*> parts;
        bool made = false;
        for (const auto& change : list.changes)
            if (change.oldShot == i && change.newShot)
            {
                if (shot.made)
                    made = true;
                else
                    parts.push_back (&change);
            }
        fate.gone = parts.empty() && ! made;
        if (! parts.empty())
        {
            std::sort (parts.begin(), parts.end(), [] (const Change* a, const Change* b) { return a->oldInShot < b->oldInShot; });
            fate.moved = std::any_of (parts.begin(), parts.end(), [] (const Change* c) { return c->kind == ChangeKind::moved; });
            fate.trimmedHead = parts.front()->oldInShot;
            fate.trimmedTail = shot.frames() - (parts.back()->oldInShot + parts.back()->frames);
            // Where its successor begins or ends with pictures that are new, the shot has grown.
            const auto& head = after.shots[*parts.front()->newShot];
            if (fate.trimmedHead == 0 && head.id == shot.id)
                fate.trimmedHead = -parts.front()->newInShot;
            const auto& tail = after.shots[*parts.back()->newShot];
            if (fate.trimmedTail == 0 && tail.id == shot.id)
                fate.trimmedTail = parts.back()->newInShot + parts.back()->frames - tail.frames();
            for (std::size_t k = 1; k < parts.size(); ++k)
                fate.split = fate.split || parts[k]->newFirst != parts[k - 1]->newFirst + parts[k - 1]->frames;
        }
        fates.push_back (std::move (fate));
    }
    return fates;
}
} // namespace shutterbeat::film
