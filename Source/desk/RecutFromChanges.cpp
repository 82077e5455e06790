#include "desk/RecutFromLists.h"

#include "desk/RecutListed.h"

#include <algorithm>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
Result<RecutMade> recutFromChanges (const spotting::Book& book, const std::string& before, const exchange::ChangeTable& changes)
{
    const auto* base = spotting::editionOf (book, before);
    if (base == nullptr)
        return usageError ("edition " + before, "the book does not have it");
    if (! changes.bad.empty())
        return unreadable ("change list, line " + std::to_string (changes.bad.front().line), changes.bad.front().why);
    std::vector<std::int64_t> firsts{ 0 };
    for (const auto& shot : base->shots)
        firsts.push_back (firsts.back() + shot.frames());
    const auto frames = firsts.back();
    // Only photographed frames: filmFramesOf would count made ones too.
    const auto shotAt = [&] (std::int64_t frame)
    { return static_cast<std::size_t> (std::upper_bound (firsts.begin(), firsts.end(), frame) - firsts.begin()) - 1; };
    std::vector<bool> told (static_cast<std::size_t> (frames));
    const auto where = [] (const exchange::ListedChange& row) { return "change list, line " + std::to_string (row.line); };
    std::vector<const exchange::ListedChange*> rows;
    for (const auto& row : changes.rows)
    {
        for (const auto& part : row.same)
            if (part.oldFirst + part.frames > frames)
                return usageError (where (row), "names old film frame " + std::to_string (part.oldFirst + part.frames - 1)
                                                    + "; edition " + before + " has " + std::to_string (frames));
        if (row.oldFirst && *row.oldFirst + row.oldFrames > frames)
            return usageError (where (row),
                               "reaches beyond edition " + before + ", which has " + std::to_string (frames) + " film frames");
        if (row.oldFirst)
            std::fill_n (told.begin() + static_cast<std::ptrdiff_t> (*row.oldFirst), row.oldFrames, true);
        for (const auto& part : row.same)
            std::fill_n (told.begin() + static_cast<std::ptrdiff_t> (part.oldFirst), part.frames, true);
        if (row.newFirst)
            rows.push_back (&row);
    }
    if (const auto left = std::find (told.begin(), told.end(), false); left != told.end())
    {
        const auto end = std::find (left, told.end(), true);
        return usageError ("change list", "says nothing of old film frames " + std::to_string (left - told.begin()) + " to "
                                              + std::to_string (end - told.begin() - 1) + "; cut out ones need a row too");
    }
    std::stable_sort (rows.begin(), rows.end(), [] (const auto* a, const auto* b) { return *a->newFirst < *b->newFirst; });
    std::vector<ListedShot> shots;
    std::int64_t at = 0;
    for (const auto* row : rows)
    {
        if (*row->newFirst != at)
            return usageError (where (*row), "begins at new film frame " + std::to_string (*row->newFirst)
                                                 + ", but the one before ends at " + std::to_string (at)
                                                 + "; the new edition has to follow on without gap or overlap");
        at += row->newFrames;
        ListedShot shot{ row->shot, row->kind, {}, row->made, {}, true };
        if (row->oldFirst && (row->remade || row->made))
        {
            auto old = shotAt (*row->oldFirst);
            // Made ones have no film frames: of several that begin here the one of that name.
            for (std::size_t s = 0; s < base->shots.size(); ++s)
                if (firsts[s] == *row->oldFirst && base->shots[s].name == row->shot
                    && base->shots[s].made.has_value() == (row->oldFrames == 0))
                    old = s;
            if (old >= base->shots.size() || firsts[old] != *row->oldFirst)
                return usageError (where (*row),
                                   "no shot of edition " + before + " begins at film frame " + std::to_string (*row->oldFirst));
            shot.standsFor = old;
            shot.kind = base->shots[old].kind;
        }
        std::int64_t done = *row->newFirst;
        const auto addNew = [&] (std::int64_t upTo)
        {
            if (upTo > done)
                shot.parts.push_back ({ {}, 0, upTo - done });
        };
        for (const auto& part : row->same)
        {
            addNew (part.newFirst);
            for (std::int64_t k = 0; k < part.frames;)
            {
                const auto old = shotAt (part.oldFirst + k);
                const auto count = std::min (part.frames - k, firsts[old + 1] - part.oldFirst - k);
                shot.parts.push_back ({ old, part.oldFirst + k - firsts[old], count });
                k += count;
            }
            done = part.newFirst + part.frames;
        }
        if (! row->made)
            addNew (*row->newFirst + row->newFrames);
        shots.push_back (std::move (shot));
    }
    return editionFromListed (book, before, shots);
}
} // namespace shutterbeat::desk
