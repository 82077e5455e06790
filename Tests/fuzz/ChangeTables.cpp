#include "fuzz/Target.h"

#include "exchange/ChangeTable.h"
#include "exchange/PictureList.h"

using namespace shutterbeat;

/// A change list, and the same bytes as a list of pictures.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    const auto text = fuzz::textOf (data, size);
    if (const auto table = exchange::readChangeTable (text))
        for (const auto& row : table->rows)
            for (const auto& part : row.same)
                fuzz::must (row.newFirst && part.frames > 0 && part.oldFirst >= 0 && part.newFirst >= *row.newFirst
                                && part.newFirst + part.frames <= *row.newFirst + row.newFrames,
                            "the same pictures lie within their row");
    if (const auto list = exchange::readPictureList (text, { time::Rational (24), false }))
    {
        std::int64_t at = 0;
        for (const auto& stretch : list->stretches)
        {
            fuzz::must (stretch.start == at && stretch.length > 0, "stretches lie end to end");
            at += stretch.length;
        }
    }
    return 0;
}
