#pragma once

namespace shutterbeat::window
{
/// What is to be drawn over or beside the picture.
struct OverlayWish
{
    bool timecode = false, frame = false, feet = false, cue = false, countdown = false;
    /// Marks for the conductor: only once the caution was read.
    bool streamers = false, punches = false, flashes = false;

    [[nodiscard]] bool numbers() const { return timecode || frame || feet || cue || countdown; }
    [[nodiscard]] bool marks() const { return streamers || punches || flashes; }
    friend bool operator== (const OverlayWish&, const OverlayWish&) = default;
};
} // namespace shutterbeat::window
