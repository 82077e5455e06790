#include "film/Timings.h"

#include "time/Timecode.h"

#include <algorithm>

namespace shutterbeat::film
{
namespace
{
Result<Done> checkShot (const std::vector<Print>& prints, const Shot& shot)
{
    const std::string where = "shot " + shot.name;
    if (shot.made)
        return Done{};
    const auto print = std::find_if (prints.begin(), prints.end(), [&] (const Print& p) { return p.id == shot.print; });
    if (print == prints.end())
        return usageError (where, "comes from print \"" + shot.print + "\", which the book does not have");
    if (shot.first < 0 || shot.end <= shot.first || shot.end > filmFramesOf (*print))
        return usageError (where, "uses film frames " + std::to_string (shot.first) + " to " + std::to_string (shot.end)
                                      + ", but its print has " + std::to_string (filmFramesOf (*print)));
    return Done{};
}
/// A rate that parseRate would give; a book made elsewhere may hold another.
Result<Done> checkRate (const time::Rate& rate)
{
    const auto again = rate.perSecond.valid() ? time::parseRate (time::rateName (rate))
                                              : Result<time::Reading<time::Rate>> (usageError ("rate", "is not a number"));
    if (! again)
        return again.error();
    return Done{};
}
} // namespace

Result<Timings> Timings::of (std::vector<Print> prints, Edition edition, Delivery delivery, std::vector<SamePictures> same)
{
    if (edition.shots.empty())
        return usageError ("edition " + edition.letter, "has no shots");
    if (edition.reels.empty() || edition.reels.front().firstShot != 0)
        return usageError ("edition " + edition.letter, "needs a first reel that begins with its first shot");
    if (auto fit = checkRate (delivery.rate); ! fit)
        return fit.error();
    if (delivery.from)
        if (auto fit = checkRate ({ *delivery.from, false }); ! fit)
            return fit.error();
    Timings timings;
    const bool labelled = time::hasTimecode (delivery.rate);
    for (std::size_t r = 0; r < edition.reels.size(); ++r)
    {
        const std::size_t first = edition.reels[r].firstShot;
        const std::size_t end = r + 1 < edition.reels.size() ? edition.reels[r + 1].firstShot : edition.shots.size();
        if (first >= end || end > edition.shots.size())
            return usageError ("edition " + edition.letter, "reel " + std::to_string (r + 1) + " has no shots");
        std::vector<Span> spans;
        std::vector<std::string> names;
        for (std::size_t i = first; i < end; ++i)
        {
            const Shot& shot = edition.shots[i];
            if (auto fit = checkShot (prints, shot); ! fit)
                return fit.error();
            spans.push_back ({ shot.frames(), speedOf (edition, shot), shot.made.value_or (time::Rational (0)) });
            names.push_back (shot.name);
            if (! shot.made && spans.back().speed > time::Rational (1000))
                return usageError ("shot " + shot.name, "has a running speed of " + time::speedText (spans.back().speed)
                                                            + " film frames a second, which no projector reaches");
        }
        auto filmTime = FilmTime::of (std::move (spans), names);
        if (! filmTime)
            return filmTime.error();
        Reel reel{ std::move (*filmTime), first, 0 };
        if (labelled)
        {
            const std::string& wanted = edition.reels[r].startLabel;
            auto count = time::parseLabel (wanted, delivery.rate);
            if (! count)
            {
                // DESIGN 5: a label that does not exist at this rate gives way to the next legal one, and says so.
                const auto next = time::nextLegalLabel (wanted, delivery.rate);
                if (! next)
                    return next.error();
                count = time::parseLabel (*next, delivery.rate);
                timings.theNotes.push_back ("start label " + wanted + " does not exist at " + time::rateName (delivery.rate) + "; "
                                            + *next + " is used");
            }
            reel.startCount = count->value;
        }
        timings.reels.push_back (std::move (reel));
    }
    if (! labelled)
        timings.theNotes.push_back ("a final rate of " + time::rateName (delivery.rate)
                                    + " has no timecode; lists show frames and clock time");
    timings.thePrints = std::move (prints);
    timings.theEdition = std::move (edition);
    timings.theDelivery = delivery;
    timings.theSame = std::move (same);
    return timings;
}
} // namespace shutterbeat::film
