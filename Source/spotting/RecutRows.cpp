#include "spotting/RecutRows.h"

#include "time/Clock.h"

#include <algorithm>
#include <map>
#include <set>

namespace shutterbeat::spotting
{
namespace
{
std::vector<std::int64_t> firstsOf (const film::Edition& edition)
{
    std::vector<std::int64_t> firsts;
    std::int64_t at = 0;
    for (const auto& shot : edition.shots)
    {
        firsts.push_back (at);
        at += shot.frames();
    }
    return firsts;
}

std::string signedText (std::int64_t frames)
{
    return (frames > 0 ? "+" : "") + std::to_string (frames);
}
} // namespace

std::vector<RecutRow> recutRows (const film::Edition& before, const film::Edition& after, const film::ChangeList& changes)
{
    const auto oldFirsts = firstsOf (before), newFirsts = firstsOf (after);
    std::map<std::size_t, std::vector<const film::Change*>> byNew; // runs that both have
    for (const auto& change : changes.changes)
        if (change.newShot && change.oldShot && change.frames > 0)
            byNew[*change.newShot].push_back (&change);
    std::set<std::size_t> oldSeen;
    std::vector<RecutRow> rows;
    for (std::size_t i = 0; i < after.shots.size(); ++i)
    {
        const auto& shot = after.shots[i];
        RecutRow row;
        row.shot = shot.name;
        row.id = shot.id;
        row.newFirst = newFirsts[i];
        row.newFrames = shot.frames();
        row.kind = shot.kind;
        row.made = shot.made;
        const auto& parts = byNew[i];
        for (const auto* part : parts)
            row.same.push_back ({ part->oldFirst, part->newFirst, part->frames });
        // The old shot it has most of; without any, the one whose id it bears.
        std::map<std::size_t, std::int64_t> frames;
        for (const auto* part : parts)
            frames[*part->oldShot] += part->frames;
        std::size_t old = before.shots.size();
        for (const auto& [candidate, count] : frames)
            if (old == before.shots.size() || count > frames[old])
                old = candidate;
        const bool shared = old < before.shots.size() && ! before.shots[old].made;
        for (std::size_t k = 0; k < before.shots.size() && old == before.shots.size(); ++k)
            if (before.shots[k].id == shot.id && oldSeen.count (k) == 0)
                old = k;
        if (old == before.shots.size())
        {
            row.what = { "new" };
            rows.push_back (std::move (row));
            continue;
        }
        row.oldFirst = oldFirsts[old];
        row.oldFrames = before.shots[old].frames();
        const bool again = ! oldSeen.insert (old).second;
        if (! shared)
        {
            const bool same =
                before.shots[old].made && before.shots[old].made == shot.made && before.shots[old].wording == shot.wording;
            row.what = { same ? "kept" : "remade" };
            row.by = row.newFirst - row.oldFirst;
            rows.push_back (std::move (row));
            continue;
        }
        const film::Change* head = nullptr;
        const film::Change* tail = nullptr;
        bool moved = false;
        for (const auto* part : parts)
        {
            if (*part->oldShot != old)
                continue;
            if (head == nullptr || part->oldInShot < head->oldInShot)
                head = part;
            if (tail == nullptr || part->oldInShot > tail->oldInShot)
                tail = part;
            moved = moved || part->kind == film::ChangeKind::moved;
        }
        row.by = head->newFirst - head->oldFirst;
        row.what = { moved ? "moved" : "kept" };
        if (again)
            row.what = { shot.id == before.shots[old].id ? "repeated" : "split" };
        const auto atHead = head->newInShot - head->oldInShot;
        const auto atTail = shot.frames() - (tail->newInShot + tail->frames) - (row.oldFrames - (tail->oldInShot + tail->frames));
        if (atHead != 0)
            row.what.push_back ("head " + signedText (atHead));
        if (atTail != 0)
            row.what.push_back ("tail " + signedText (atTail));
        const auto inside = row.newFrames - row.oldFrames - atHead - atTail;
        if (inside != 0)
            row.what.push_back ("inside " + signedText (inside));
        rows.push_back (std::move (row));
    }
    // Old shots without a successor stand behind the shot they stood behind.
    for (std::size_t k = 0; k < before.shots.size(); ++k)
    {
        if (oldSeen.count (k) > 0)
            continue;
        RecutRow row;
        row.what = { "cut out" };
        row.shot = before.shots[k].name;
        row.id = before.shots[k].id;
        row.oldFirst = oldFirsts[k];
        row.oldFrames = before.shots[k].frames();
        row.kind = before.shots[k].kind;
        row.made = before.shots[k].made;
        auto at = rows.begin();
        for (auto next = rows.begin(); next != rows.end(); ++next)
            if (next->oldFirst >= 0 && next->oldFirst <= row.oldFirst && next->what.front() != "moved"
                && next->what.front() != "repeated")
                at = next + 1;
        rows.insert (at, std::move (row));
    }
    return rows;
}

std::string whatText (const RecutRow& row)
{
    std::string text;
    for (const auto& word : row.what)
        text += (text.empty() ? "" : ", ") + word;
    return text;
}

std::string insideText (const InsideChange& change)
{
    std::string text = (change.bar.empty() ? "at " + time::clockText (change.cueSeconds) : change.bar) + ":";
    if (change.out > 0)
        text += " " + std::to_string (change.out) + " frames out" + (change.in > 0 ? "," : "");
    if (change.in > 0)
        text += " " + std::to_string (change.in) + " frames in";
    return text;
}
} // namespace shutterbeat::spotting
