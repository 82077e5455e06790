#include "film/SamePictures.h"

#include <algorithm>

namespace shutterbeat::film
{
std::vector<SourceFrame> sameElsewhere (const std::vector<SamePictures>& known, const SourceFrame& frame)
{
    std::vector<SourceFrame> found{ frame };
    for (std::size_t i = 0; i < found.size(); ++i)
    {
        const SourceFrame at = found[i];
        const auto add =
            [&] (const std::string& from, std::int64_t fromFirst, const std::string& to, std::int64_t toFirst, std::int64_t frames)
        {
            // As many as any book of sense has: one that says a picture lies in itself a frame later would go on without end.
            if (at.print != from || at.frame < fromFirst || at.frame - fromFirst >= frames || found.size() >= 256)
                return;
            const SourceFrame other{ to, toFirst + at.frame - fromFirst };
            if (std::find (found.begin(), found.end(), other) == found.end())
                found.push_back (other);
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
