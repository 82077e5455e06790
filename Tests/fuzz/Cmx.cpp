#include "fuzz/Target.h"

#include "exchange/CmxRead.h"

using namespace shutterbeat;

/// A CMX3600 list, at a rate with drop-frame labels and at one without.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    for (const auto& rate : { time::Rate{ time::Rational (24), false }, time::Rate{ time::Rational (30000, 1001), true } })
    {
        const auto list = exchange::readCmxList (fuzz::textOf (data, size), rate);
        if (! list)
            continue;
        std::int64_t at = 0;
        for (const auto& shot : list->shots())
        {
            fuzz::must (shot.start == at && shot.length > 0, "shots stand one behind the other");
            at += shot.length;
        }
        for (const auto& event : list->events)
            (void)event.speedFactor (rate);
        fuzz::must (exchange::readCmxList (exchange::cmxListText (*list), rate).ok(), "a list that was written can be read");
    }
    return 0;
}
