#include "spotting/WorkEdit.h"

#include "spotting/Ids.h"

#include <algorithm>
#include <set>

namespace shutterbeat::spotting
{
namespace
{
Result<Work> checked (Work work)
{
    if (work.title.empty())
        return usageError ("work", "needs a title");
    if (! work.iswc.empty())
    {
        const auto iswc = checkIswc (work.iswc);
        if (! iswc)
            return iswc.error();
        work.iswc = *iswc;
    }
    for (const bool writer : { true, false })
        for (auto& interest : writer ? work.writers : work.publishers)
        {
            const std::string where = std::string (writer ? "writer" : "publisher") + " \"" + interest.name + "\"";
            if (interest.name.empty())
                return usageError (where, "needs a name");
            if (! (writer ? isWriterRole (interest.role) : isPublisherRole (interest.role)))
                return usageError (where, "role \"" + interest.role + "\" is not one of "
                                              + (writer ? "C (composer), A (author), CA, AR (arranger), AD, TR" : "E, SE, AM"));
            if (! interest.share.valid() || interest.share.sign() < 0 || interest.share > time::Rational (100))
                return usageError (where, "a share is 0 to 100 percent");
            if (interest.ipi.empty())
                continue;
            const auto ipi = checkIpi (interest.ipi);
            if (! ipi)
                return ipi.error();
            interest.ipi = *ipi;
        }
    return work;
}

bool has (const Book& book, const std::string& id)
{
    return std::any_of (book.works.begin(), book.works.end(), [&] (const Work& work) { return work.id == id; });
}
} // namespace

Result<Edited> addWork (const Book& book, const std::string& person, Work work)
{
    auto right = checked (std::move (work));
    if (! right)
        return right.error();
    Book edited = book;
    const auto ids = takeIds (edited, person, 1);
    if (! ids)
        return ids.error();
    right->id = ids->front();
    auto works = book.works.list();
    works.push_back (std::move (*right));
    edited.works = std::move (works);
    return Edited{ std::move (edited), *ids };
}

Result<Book> setWork (const Book& book, Work work)
{
    if (! has (book, work.id))
        return usageError ("work " + work.id, "is not in the book");
    auto right = checked (std::move (work));
    if (! right)
        return right.error();
    auto works = book.works.list();
    for (auto& known : works)
        if (known.id == right->id)
            known = *right;
    Book edited = book;
    edited.works = std::move (works);
    return edited;
}

Result<Book> removeWorks (const Book& book, const std::vector<std::string>& ids)
{
    for (const auto& id : ids)
        if (! has (book, id))
            return usageError ("work " + id, "is not in the book");
    const auto gone = [&] (const std::string& id) { return std::find (ids.begin(), ids.end(), id) != ids.end(); };
    auto works = book.works.list();
    auto uses = book.uses.list();
    std::erase_if (works, [&] (const Work& work) { return gone (work.id); });
    std::erase_if (uses, [&] (const WorkUse& use) { return gone (use.work); });
    Book edited = book;
    edited.works = std::move (works);
    edited.uses = std::move (uses);
    return edited;
}

Result<Book> setUses (const Book& book, const std::string& cue, std::vector<WorkUse> uses)
{
    if (cueOf (book, cue) == nullptr)
        return usageError ("cue " + cue, "is not in the book");
    auto all = book.uses.list();
    std::erase_if (all, [&] (const WorkUse& use) { return use.cue == cue; });
    for (auto& use : uses)
    {
        use.cue = cue;
        if (! has (book, use.work))
            return usageError ("work " + use.work, "is not in the book");
        if (use.from && use.to && *use.to <= *use.from)
            return usageError ("work " + use.work, "its use has to end after it begins");
        all.push_back (std::move (use));
    }
    Book edited = book;
    edited.uses = std::move (all);
    return edited;
}

Result<Work> workNamed (const Book& book, const std::string& idOrTitle)
{
    const Work* found = nullptr;
    for (const auto& work : book.works)
    {
        if (work.id == idOrTitle)
            return work;
        if (work.title != idOrTitle)
            continue;
        if (found != nullptr)
            return usageError ("work \"" + idOrTitle + "\"", "there are several of that title; name one by its id");
        found = &work;
    }
    if (found == nullptr)
        return usageError ("work \"" + idOrTitle + "\"", "is not in the book");
    return *found;
}

Book setProduction (const Book& book, const Production& production)
{
    Book edited = book;
    edited.production = production;
    return edited;
}

Result<Book> setUsages (const Book& book, std::vector<UsageCode> codes)
{
    std::set<std::string> seen;
    for (const auto& code : codes)
        if (code.code.empty() || ! seen.insert (code.code).second)
            return usageError ("usage code \"" + code.code + "\"", code.code.empty() ? "is empty" : "is there twice");
    Book edited = book;
    edited.usages = std::move (codes);
    return edited;
}
} // namespace shutterbeat::spotting
