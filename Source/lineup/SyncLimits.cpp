#include "lineup/SyncLimits.h"

namespace shutterbeat::lineup
{
const std::vector<SyncLimit>& syncLimits()
{
    static const std::vector<SyncLimit> all{
        { "AC-3 decoder specification", 5, 15 },
        { "EBU R37, one production stage", 5, 15 },
        { "ATSC IS-191", 15, 45 },
        { "EBU R37, distribution", 40, 60 },
        { "ITU-R Report BS.1204, film practice", 42, 83 },
        { "ITU-R BT.1359-1, detectability", 45, 125 },
        { "ITU-R BT.1359-1, acceptability", 90, 185 },
    };
    return all;
}

std::vector<std::string> brokenLimits (double lateMs)
{
    std::vector<std::string> broken;
    for (const auto& limit : syncLimits())
        if (! limit.holds (lateMs))
            broken.push_back (limit.name);
    return broken;
}
} // namespace shutterbeat::lineup
