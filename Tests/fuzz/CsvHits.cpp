#include "fuzz/Target.h"

#include "exchange/CsvList.h"

using namespace shutterbeat;

/// A table of hits.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    const auto text = fuzz::textOf (data, size);
    if (const auto table = exchange::readTable (text))
        for (const auto& record : table->records)
            fuzz::must (record.cells.size() == table->columns.size(), "a record has a cell a column");
    if (const auto list = exchange::readHitList (text))
        for (const auto& hit : list->hits)
            fuzz::must (hit.lead.valid() && (! hit.clock || hit.clock->valid()), "numbers that are taken are numbers");
    return 0;
}
