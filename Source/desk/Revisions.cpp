#include "desk/Revisions.h"

#include "spotting/ParcelRows.h"
#include "store/BookFile.h"
#include "store/Parcels.h"
#include "time/Text.h"

#include <algorithm>
#include <cstdint>

namespace shutterbeat::desk
{
namespace
{
/// Two books with the same text have the same state; what was sent and named, and who took part, is no part of it. FNV-1a, 64 bits:
/// it tells apart what people change, and guards against nobody.
std::string stateOf (spotting::Book book)
{
    book.people = std::vector<spotting::Person>{};
    const auto text = store::bookText (store::withParcels (store::withRevisions (std::move (book), {}), {}));
    std::uint64_t hash = 14695981039346656037ull;
    for (const char c : text)
        hash = (hash ^ static_cast<unsigned char> (c)) * 1099511628211ull;
    std::string state;
    for (int digit = 15; digit >= 0; --digit)
        state += "0123456789abcdef"[(hash >> (4 * digit)) & 15];
    return state;
}

Result<spotting::SentState> keptOf (const OpenBook& open, const std::vector<spotting::Revision>& revisions, const std::string& name)
{
    if (name.empty())
    {
        const auto times = spotting::timesOf (open.book);
        return times ? Result<spotting::SentState> (spotting::sentState (*times)) : times.error();
    }
    std::string names;
    for (const auto& revision : revisions)
    {
        if (revision.name == name)
            return revision.kept;
        names += (names.empty() ? "" : ", ") + revision.name;
    }
    return usageError ("revision " + name, names.empty() ? "is not there; no state of this book was ever named"
                                                         : "is not there; those of this book are: " + names);
}
} // namespace

Result<std::vector<spotting::Revision>> revisionsIn (const OpenBook& open)
{
    auto revisions = store::revisionsOf (open.book);
    if (! revisions)
        return Error{ revisions.error().code, open.path, revisions.error().message };
    return revisions;
}

Result<spotting::Book> withRevision (const OpenBook& open, const std::string& name, const std::string& stamped)
{
    auto revisions = revisionsIn (open);
    if (! revisions)
        return revisions.error();
    const std::string given (time::trimmed (name));
    if (given.empty() || given.find_first_of ("\r\n\t") != std::string::npos)
        return usageError ("revision", "needs a name on one line, such as \"after the session\"");
    if (std::any_of (revisions->begin(), revisions->end(), [&] (const auto& known) { return known.name == given; }))
        return usageError ("revision " + given, "is there already; give this one another name");
    const auto times = spotting::timesOf (open.book);
    if (! times)
        return times.error();
    revisions->push_back ({ given, stamped, stateOf (open.book), spotting::sentState (*times), {} });
    return store::withRevisions (open.book, *revisions);
}

std::string revisionText (const spotting::Book& book)
{
    const auto revisions = store::revisionsOf (book);
    if (! revisions || revisions->empty())
        return "";
    const auto& last = revisions->back();
    return last.name + (last.state == stateOf (book) ? "" : ", changed since");
}

Result<std::vector<std::string>> changesOfRevisions (const OpenBook& open, const std::string& from, const std::string& to)
{
    const auto revisions = revisionsIn (open);
    if (! revisions)
        return revisions.error();
    const auto before = keptOf (open, *revisions, from);
    if (! before)
        return before.error();
    const auto after = keptOf (open, *revisions, to);
    if (! after)
        return after.error();
    return spotting::changesBetween (*before, *after);
}
} // namespace shutterbeat::desk
