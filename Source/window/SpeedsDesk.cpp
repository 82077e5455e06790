#include "window/SpeedsDesk.h"

#include "time/Clock.h"
#include "window/Bench.h"

#include <cmath>

namespace shutterbeat::window
{
void SpeedsDesk::setReach (Reach to)
{
    reaches = to;
    bench.changed();
}

void SpeedsDesk::type (const std::string& speed)
{
    words = speed;
    bench.changed();
}

Result<spotting::Book> SpeedsDesk::changed() const
{
    const auto speed = time::parseSpeed (words);
    if (! speed)
        return speed.error();
    const auto& edition = bench.times()->timings.edition();
    if (reaches == Reach::film)
        return spotting::setWholeSpeed (bench.book(), edition.letter, speed->value);
    auto first = bench.transport.position().shot, last = first;
    if (reaches == Reach::run)
        for (const auto& run : spotting::speedRuns (edition))
            if (run.first <= first && first < run.end)
            {
                first = run.first;
                last = run.end - 1;
                break;
            }
    return spotting::setSceneSpeed (bench.book(), edition.letter, edition.shots[first].id, edition.shots[last].id, speed->value);
}

std::string SpeedsDesk::effect() const
{
    if (words.empty() || bench.times() == nullptr)
        return "";
    const auto book = changed();
    if (! book)
        return book.error().text();
    const auto effect = spotting::speedEffect (bench.book(), *book);
    if (! effect)
        return effect.error().text();
    if (effect->before == effect->after)
        return "The film stays " + time::clockText (effect->before) + " long.";
    const auto cents = std::llround (effect->cents);
    return time::clockText (effect->before) + " becomes " + time::clockText (effect->after) + "; " + std::to_string (effect->moved)
           + " of " + std::to_string (effect->hits.size()) + " hits get other times. Sound made for the old length has to run at "
           + time::decimalText (effect->soundSpeed * time::Rational (100), 2) + " %: " + (cents > 0 ? "+" : "")
           + std::to_string (cents) + " cents unless its pitch is kept.";
}

void SpeedsDesk::take()
{
    if (bench.times() == nullptr)
        return;
    if (words.empty())
        return bench.complain ("Type a speed first, such as 18, 200/11 or 80ft/min.");
    auto book = changed();
    if (! book)
        return bench.complain (book.error().text());
    bench.take ("running speed", std::move (book));
}
} // namespace shutterbeat::window
