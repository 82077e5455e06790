#include "play/ScreenLog.h"

#include <algorithm>

namespace shutterbeat::play
{
namespace
{
constexpr std::size_t kept = 512; // eight seconds at 60 pictures a second
}

void ScreenLog::put (std::int64_t nanoseconds, const OnScreen& shown)
{
    if (! entries.empty())
    {
        const auto& last = entries.back().shown;
        if (last.delivered == shown.delivered && last.at.reel == shown.at.reel && last.at.shot == shown.at.shot
            && last.at.frameInShot == shown.at.frameInShot)
            return;
    }
    entries.push_back ({ nanoseconds, shown });
    if (entries.size() > kept)
        entries.pop_front();
}

std::optional<OnScreen> ScreenLog::at (std::int64_t nanoseconds) const
{
    if (entries.empty())
        return {};
    const auto later = std::upper_bound (entries.begin(), entries.end(), nanoseconds,
                                         [] (std::int64_t asked, const Entry& entry) { return asked < entry.since; });
    return later == entries.begin() ? entries.front().shown : std::prev (later)->shown;
}
} // namespace shutterbeat::play
