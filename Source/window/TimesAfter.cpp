#include "window/TimesAfter.h"

namespace shutterbeat::window
{
bool sameTimings (const spotting::Book& a, const spotting::Book& b)
{
    return a.prints.sharesWith (b.prints) && a.editions.sharesWith (b.editions) && a.edition == b.edition
           && a.delivery == b.delivery;
}

Result<spotting::BookTimes> timesAfter (const spotting::Book& book, const spotting::Book& was, spotting::BookTimes* before)
{
    if (before == nullptr || ! sameTimings (book, was))
        return spotting::timesOf (book);
    return spotting::timesWith (book, std::move (before->timings), std::move (before->hits));
}
} // namespace shutterbeat::window
