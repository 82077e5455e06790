#include "window/ListFilter.h"

#include "time/Text.h"

namespace shutterbeat::window
{
namespace
{
bool holdsAll (const std::string& wanted, const std::string& text)
{
    const auto lower = time::lowerAscii (text);
    for (const auto& word : time::splitAt (wanted, ' '))
        if (lower.find (time::lowerAscii (word)) == std::string::npos)
            return false;
    return true;
}
} // namespace

bool ListFilter::lets (const spotting::HitPoint& hit, const spotting::Book& book) const
{
    if ((mustOnly && hit.weight != spotting::Weight::must) || (openOnly && hit.agreed))
        return false;
    if (words.empty())
        return true;
    const auto* cue = spotting::cueOf (book, hit.cue);
    return holdsAll (words, hit.label + " " + hit.note + " " + hit.askedBy + " " + std::string (spotting::hitKindName (hit.kind))
                                + " " + std::string (spotting::weightName (hit.weight)) + (hit.agreed ? " agreed " : " open ")
                                + (cue == nullptr ? "" : cue->number + " " + cue->title));
}

bool ListFilter::lets (const spotting::Cue& cue) const
{
    return words.empty()
           || holdsAll (words, cue.number + " " + cue.title + " " + cue.mood + " " + cue.note + " " + cue.version + " "
                                   + std::string (spotting::cueKindName (cue.kind)) + " "
                                   + std::string (spotting::cueStatusName (cue.status)));
}
} // namespace shutterbeat::window
