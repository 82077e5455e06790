#include "fuzz/Target.h"

#include "exchange/CmxRead.h"

using namespace shutterbeat;

/// A CMX3600 list, at a rate with drop-frame labels where its length is odd, at one without where it is even.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    const auto rate = size % 2 == 0 ? time::Rate{ time::Rational (24), false } : time::Rate{ time::Rational (30000, 1001), true };
    const auto list = exchange::readCmxList (fuzz::textOf (data, size), rate);
    if (! list)
        return 0;
    std::int64_t at = 0;
    for (const auto& shot : list->shots())
    {
        fuzz::must (shot.start == at && shot.length > 0, "shots stand one behind the other");
        at += shot.length;
    }
    for (const auto& event : list->events)
        (void)event.speedFactor (rate);
    fuzz::must (exchange::readCmxList (exchange::cmxListText (*list), rate).ok(), "a list that was written can be read");
    return 0;
}
