#include "film/SamePictures.h"

#include <algorithm>

namespace shutterbeat::film
{
std::vector<SourceFrame> sameElsewhere (const std::vector<SamePictures>& known, const SourceFrame& frame)
{
    std::vector<SourceFrame> found{ frame };
    for (std::size_t i = 0; i < found.size(); ++i)
    {
        const SourceFrame at = found[i]; // a copy: the list grows
        const auto add =
            [&] (const std::string& from, std::int64_t fromFirst, const std::string& to, std::int64_t toFirst, std::int64_t frames)
        {
            // As many as any book of sense has: one that says a picture lies in itself a frame later would go on without end.
            if (at.frame < fromFirst || at.frame - fromFirst >= frames || at.print != from || found.size() >= 256)
                return;
            const auto number = toFirst + at.frame - fromFirst;
            // Numbers differ sooner than names.
            if (std::none_of (found.begin(), found.end(),
                              [&] (const SourceFrame& one) { return one.frame == number && one.print == to; }))
                found.push_back ({ to, number });
        };
        for (const auto& same : known)
        {
            add (same.print, same.first, same.other, same.otherFirst, same.frames);
            add (same.other, same.otherFirst, same.print, same.first, same.frames);
        }
    }
    found.erase (found.begin());
    return found;
}
} // namespace shutterbeat::film
