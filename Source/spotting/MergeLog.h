#pragma once

#include "spotting/Merge.h"
#include "spotting/MergeText.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// What a merge keeps account of while it goes through the book.
class MergeLog
{
public:
    explicit MergeLog (const std::vector<MergeChoice>& choices)
    {
        for (const auto& choice : choices)
            chosen[choice.key] = choice.theirs;
    }

    /// Both did something: true when theirs is to be taken. `usual` holds where nobody chose.
    bool conflict (MergeConflict found, bool usual)
    {
        found.tookTheirs = usual;
        known.push_back (found.key);
        if (const auto choice = chosen.find (found.key); choice != chosen.end())
        {
            found.tookTheirs = choice->second;
            used.insert (found.key);
            settled.push_back (found.what + ", " + found.field + ": " + (choice->second ? "theirs, " : "mine, ")
                               + (choice->second ? found.theirs : found.mine));
        }
        else
            conflicts.push_back (found);
        return found.tookTheirs;
    }

    void brought (const std::string& sentence) { fromTheirs.push_back (sentence); }

    std::vector<MergeConflict> conflicts;
    std::vector<std::string> settled, fromTheirs, notes;
    std::vector<std::string> known; ///< keys of all conflicts
    std::map<std::string, bool> chosen;
    std::set<std::string> used;
};

/// A thing of the book as a merge names it.
struct MergeItem
{
    std::string key;  ///< "anna-3"
    std::string what; ///< hit anna-3 "The kite"
};

/// One field of one thing, three ways.
template <class T>
T mergeField (MergeLog& log, const MergeItem& item, const std::string& field, const T& base, const T& mine, const T& theirs)
{
    if (mine == theirs || theirs == base)
        return mine;
    if (mine == base)
    {
        log.brought (item.what + ", " + field + ": " + valueText (mine) + " becomes " + valueText (theirs));
        return theirs;
    }
    const bool takeTheirs = log.conflict (
        { item.key + "." + field, item.what, field, valueText (base), valueText (mine), valueText (theirs), false }, false);
    return takeTheirs ? theirs : mine;
}

/// Members of a newer program, each by its name.
inline film::Unknown mergeUnknown (MergeLog& log, const MergeItem& item, const film::Unknown& base, const film::Unknown& mine,
                                   const film::Unknown& theirs)
{
    film::Unknown merged;
    std::set<std::string> names;
    for (const auto* side : { &mine, &theirs })
        for (const auto& [name, value] : *side)
            names.insert (name);
    const auto of = [] (const film::Unknown& side, const std::string& name)
    {
        const auto found = side.find (name);
        return found == side.end() ? std::optional<std::string>() : std::optional (found->second);
    };
    for (const auto& name : names)
        if (auto value = mergeField (log, item, name, of (base, name), of (mine, name), of (theirs, name)))
            merged[name] = std::move (*value);
    return merged;
}

/// A list of values without names of their own: what either side added is in, what either took out is out. Never a conflict.
template <class T>
std::vector<T> mergeSet (MergeLog& log, const std::string& what, const std::vector<T>& base, const std::vector<T>& mine,
                         const std::vector<T>& theirs)
{
    const auto has = [] (const std::vector<T>& list, const T& value)
    { return std::find (list.begin(), list.end(), value) != list.end(); };
    std::vector<T> merged;
    std::size_t out = 0, in = 0;
    for (const auto& value : mine)
        if (has (base, value) && ! has (theirs, value))
            ++out;
        else
            merged.push_back (value);
    for (const auto& value : theirs)
        if (! has (base, value) && ! has (mine, value))
        {
            merged.push_back (value);
            ++in;
        }
    if (in + out > 0)
        log.brought (what + ": " + std::to_string (in) + " came in, " + std::to_string (out) + " went out");
    return merged;
}

/// A list of things with keys. `itemOf` names one, `mergeOne (item, base, mine, theirs)` merges one that both have.
template <class T, class ItemOf, class MergeOne>
std::vector<T> mergeList (MergeLog& log, const std::vector<T>& base, const std::vector<T>& mine, const std::vector<T>& theirs,
                          ItemOf itemOf, MergeOne mergeOne)
{
    const auto byKey = [&] (const std::vector<T>& list)
    {
        std::map<std::string, const T*> found;
        for (const auto& value : list)
            found.emplace (itemOf (value).key, &value);
        return found;
    };
    const auto inBase = byKey (base), inMine = byKey (mine), inTheirs = byKey (theirs);
    const auto at = [] (const std::map<std::string, const T*>& all, const std::string& key) -> const T*
    {
        const auto found = all.find (key);
        return found == all.end() ? nullptr : found->second;
    };
    std::vector<T> merged;
    for (const auto& value : mine)
    {
        const auto item = itemOf (value);
        const auto* before = at (inBase, item.key);
        if (const auto* other = at (inTheirs, item.key))
            merged.push_back (mergeOne (item, before != nullptr ? *before : T{}, value, *other));
        else if (before == nullptr)
            merged.push_back (value);
        else if (value == *before)
            log.brought (item.what + " was taken away");
        else if (! log.conflict ({ item.key, item.what, "removed", "there", "changed", "taken away", false }, false))
            merged.push_back (value);
    }
    for (const auto& value : theirs)
    {
        const auto item = itemOf (value);
        if (at (inMine, item.key) != nullptr)
            continue;
        const auto* before = at (inBase, item.key);
        if (before == nullptr)
        {
            merged.push_back (value);
            log.brought (item.what + " is new");
        }
        else if (! (value == *before)
                 && log.conflict ({ item.key, item.what, "removed", "there", "taken away", "changed", true }, true))
            merged.push_back (value);
    }
    return merged;
}
} // namespace shutterbeat::spotting
