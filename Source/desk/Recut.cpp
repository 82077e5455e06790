#include "desk/Recut.h"

#include "desk/FilmPath.h"
#include "desk/Fingerprints.h"
#include "desk/Prints.h"

#include <algorithm>
#include <filesystem>
#include <set>

namespace shutterbeat::desk
{
namespace
{
const film::Print* printOf (const spotting::Book& book, const std::string& id)
{
    const auto found = std::find_if (book.prints.begin(), book.prints.end(), [&] (const film::Print& p) { return p.id == id; });
    return found == book.prints.end() ? nullptr : &*found;
}

/// Its share of the whole work.
Progress part (const Progress& progress, double from, double to)
{
    return [progress, from, to] (double fraction, const std::string& what)
    { return ! progress || progress (from + (to - from) * fraction, what); };
}
} // namespace

Result<RecutMade> recut (const OpenBook& open, const std::vector<std::string>& files, const std::string& name,
                         const std::string& before, const Progress& progress)
{
    const auto letter = before.empty() ? open.book.edition : before;
    const auto* base = spotting::editionOf (open.book, letter);
    if (base == nullptr)
        return usageError ("edition " + letter, "the book does not have it");
    if (files.empty())
        return usageError (open.path, "name the files of the new print");
    std::set<std::string> used;
    for (const auto& shot : base->shots)
        if (! shot.made)
            used.insert (shot.print);
    if (used.empty())
        return usageError ("edition " + letter, "has no photographed shots that could be found again");
    const auto* first = printOf (open.book, *used.begin());
    if (first == nullptr)
        return usageError ("print " + *used.begin(), "the book does not have it");
    // What a list named and no file has brought can't be looked for.
    std::vector<std::string> toCome;
    for (const auto& id : std::set<std::string> (used))
        if (const auto* old = printOf (open.book, id);
            old != nullptr && std::any_of (old->reels.begin(), old->reels.end(), [] (const auto& reel) { return isToCome (reel); }))
        {
            toCome.push_back ("print " + old->name + " has no pictures yet, so that its shots are not looked for");
            used.erase (id);
        }
    if (used.empty())
        return usageError ("edition " + letter, toCome.front());
    const auto called = name.empty() ? freePrintName (open.book, std::filesystem::path (files.front()).stem().string()) : name;
    auto added = addPrint (open, called, files, first->gauge, part (progress, 0, 0.4));
    if (! added)
        return added.error();
    OpenBook with{ added->book, open.path, open.stamp };
    const auto* print = printOf (with.book, added->print);
    const auto now = fingerprintsOf (with, *print, part (progress, 0.4, 0.6));
    if (! now)
        return now.error();
    std::map<std::string, scan::PrintMatch> matches;
    std::vector<std::string> notes = added->notes;
    notes.insert (notes.end(), toCome.begin(), toCome.end());
    for (const auto& id : used)
    {
        const auto* old = printOf (with.book, id);
        if (old == nullptr)
            return usageError ("print " + id, "the book does not have it");
        const auto was = fingerprintsOf (with, *old, part (progress, 0.6, 0.9));
        if (! was)
            return was.error();
        const auto cuts = cutsOf (*old, *base);
        auto match = scan::matchPrints ({ *was, cuts }, { *now, print->scanned });
        if (match.mirrored)
            notes.push_back ("print " + called + " is seen from behind against " + old->name + ": left and right are exchanged");
        matches.emplace (id, std::move (match));
    }
    auto made = editionFrom (with.book, letter, added->print, matches);
    if (! made)
        return made.error();
    notes.insert (notes.end(), made->notes.begin(), made->notes.end());
    made->notes = std::move (notes);
    if (progress)
        progress (1, "comparing");
    return made;
}
} // namespace shutterbeat::desk
