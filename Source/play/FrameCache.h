#pragma once

#include "media/Picture.h"
#include "play/FrameKey.h"

#include <map>
#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::play
{
using PicturePtr = std::shared_ptr<const media::Picture>;

/// Decoded pictures up to a number of bytes. What is wanted now stays; of the rest, what was used longest ago goes first.
/// One thread at a time.
class FrameCache
{
public:
    explicit FrameCache (std::size_t budgetBytes)
        : budget (budgetBytes)
    {
    }

    /// The pictures to keep, most wanted first.
    void want (std::vector<FrameKey> keys);
    /// The picture, or null; having been asked for counts as use.
    PicturePtr find (const FrameKey& key);
    [[nodiscard]] bool has (const FrameKey& key) const { return frames.count (key) > 0; }
    /// Puts a picture in, and lets others go until the budget holds. False when it has no room beside more wanted ones.
    bool add (const FrameKey& key, PicturePtr picture);
    void clear();

    [[nodiscard]] std::size_t bytes() const { return used; }
    [[nodiscard]] std::size_t count() const { return frames.size(); }

private:
    struct Kept
    {
        PicturePtr picture;
        std::uint64_t lastUse = 0;
    };
    [[nodiscard]] std::size_t rankOf (const FrameKey& key) const;
    bool dropOneBelow (std::size_t rank);

    std::size_t budget;
    std::size_t used = 0;
    std::uint64_t uses = 0;
    std::map<FrameKey, Kept> frames;
    std::map<FrameKey, std::size_t> ranks; ///< place in the wanted list
};
} // namespace shutterbeat::play
