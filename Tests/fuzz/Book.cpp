#include "fuzz/Target.h"

#include "spotting/Times.h"
#include "store/BookFile.h"

using namespace shutterbeat;

/// A book from disk. One that is taken has to be written and read back as it is, and its times worked out or refused.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    const auto book = store::parseBook (fuzz::textOf (data, size), "fuzz");
    if (! book)
        return 0;
    const auto text = store::bookText (*book);
    const auto again = store::parseBook (text, "again");
    fuzz::must (again.ok(), "a book that was written can be read");
    fuzz::must (store::bookText (*again) == text, "a book that was read is written as it was");
    (void)spotting::timesOf (*book, {});
    return 0;
}
