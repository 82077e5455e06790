// Prints "count label" for every frame of a day at a rate, for comparison with a counter of other hands.
#include "time/Timecode.h"

#include <cstdio>

int main (int count, char** words)
{
    using namespace shutterbeat::time;
    const auto rate = parseRate (count > 1 ? words[1] : "");
    if (! rate)
    {
        std::fprintf (stderr, "%s\n", rate.error().text().c_str());
        return 2;
    }
    std::string page;
    for (std::int64_t n = 0; n < labelsPerDay (rate->value); ++n)
    {
        page += std::to_string (n) + " " + labelOf (n, rate->value).text + "\n";
        if (page.size() > 60000 || n + 1 == labelsPerDay (rate->value))
        {
            std::fwrite (page.data(), 1, page.size(), stdout);
            page.clear();
        }
    }
    return 0;
}
