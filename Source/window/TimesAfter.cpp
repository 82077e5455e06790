#include "window/TimesAfter.h"

#include <string>
#include <unordered_map>

namespace shutterbeat::window
{
bool sameTimings (const spotting::Book& a, const spotting::Book& b)
{
    return a.prints.sharesWith (b.prints) && a.editions.sharesWith (b.editions) && a.edition == b.edition
           && a.delivery == b.delivery;
}

Result<spotting::BookTimes> timesAfter (const spotting::Book& book, const spotting::Book& was, spotting::BookTimes* before)
{
    if (before == nullptr || ! sameTimings (book, was) || ! book.cues.sharesWith (was.cues) || book.hits.size() != was.hits.size())
        return spotting::timesOf (book);
    std::vector<std::size_t> changed;
    for (std::size_t i = 0; i < book.hits.size(); ++i)
    {
        const auto &now = book.hits[i], &old = was.hits[i];
        if (now.id != old.id || now.place != old.place || now.cue != old.cue || now.lead != old.lead)
            return spotting::timesOf (book);
        if (! (now == old))
            changed.push_back (i);
    }
    std::unordered_map<std::string, std::size_t> rows;
    for (std::size_t r = 0; r < before->hits.size(); ++r)
        rows[before->hits[r].hit.id] = r;
    for (const auto i : changed)
    {
        const auto row = rows.find (book.hits[i].id);
        // A lost hit is named in the notes: those are written anew.
        if (row == rows.end() || ! before->hits[row->second].at)
            return spotting::timesOf (book);
        before->hits[row->second].hit = book.hits[i];
    }
    return std::move (*before);
}
} // namespace shutterbeat::window
