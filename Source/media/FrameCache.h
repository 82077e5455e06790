#pragma once

#include "media/Libav.h"

#include <cstddef>
#include <cstdint>
#include <map>

namespace shutterbeat::media
{
/// A decoded picture as it is kept.
struct KeptFrame
{
    FrameHandle frame;
    bool damaged = false;
};

/// Decoded pictures by file frame, within a budget of bytes. What lies furthest from where the user is goes first, so
/// that one run through a group of pictures leaves those that stepping back asks for next.
class FrameCache
{
public:
    explicit FrameCache (std::size_t budgetBytes)
        : budget (budgetBytes)
    {
    }

    /// Keeps a picture; `target`, the frame that is wanted, is never thrown out for it. When the user goes backward, what
    /// lies behind the target (later in the film) counts as sixteen times as far away.
    void keep (std::int64_t frame, KeptFrame picture, std::int64_t target, bool backward = false);
    /// Null when it is not kept. Valid until the next keep() or clear().
    [[nodiscard]] const KeptFrame* find (std::int64_t frame) const;
    void forget (std::int64_t frame);
    void clear();
    [[nodiscard]] std::size_t bytes() const { return used; }

private:
    void drop (std::map<std::int64_t, KeptFrame>::iterator at);

    std::map<std::int64_t, KeptFrame> kept;
    std::size_t budget;
    std::size_t used = 0;
};
} // namespace shutterbeat::media
