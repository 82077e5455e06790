#pragma once

#include "overlay/Patch.h"
#include "overlay/Sketch.h"

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::overlay
{
/// Which parts of the overlay are switched on.
struct Parts
{
    bool timecode = true;
    bool frame = true;
    bool feet = true;
    bool bar = true;
    bool cue = true;
    bool countdown = true;
    bool receiver = true;
};

/// The hit that comes next.
struct NextHit
{
    std::string seconds;  ///< until it: "3.2"
    std::string frames;   ///< delivered frames until it: "77"
    std::string label;    ///< what people call it
    bool wording = false; ///< the label is what a card says
    /// Draws the hit's mark in the square at x, y of a size; may be empty.
    std::function<void (cairo_t*, double x, double y, double size)> mark;
    std::string markKey; ///< the same for the same mark, so that it need not be drawn again
};

/// What is to be read at one moment, as text. Parts that are empty are left out.
struct Readout
{
    std::string timecode;
    std::string frame;
    std::string feet;
    std::string bar; ///< bar and beat: "12|3"
    std::string cueNumber, cueTitle;
    std::optional<NextHit> next;
    std::string receiver; ///< whom this copy is for
};

/// Draws what is read beside the picture where it leaves side bars broad enough, else over its edges. Parts whose text is
/// the same as last time are not drawn again. One thread at a time.
class Overlay
{
public:
    /// A screen or movie of width x height with the picture at `picture`.
    Overlay (int width, int height, const Box& picture, const Parts& parts);

    /// True when nothing covers the picture.
    [[nodiscard]] bool besidePicture() const { return beside; }
    [[nodiscard]] std::vector<Patch> draw (const Readout& readout);

private:
    struct Drawn
    {
        std::string key;
        Patch patch;
    };

    void inBars (const Readout& readout);
    void overPicture (const Readout& readout);
    void group (const char* name, const std::string& text, const std::string& widest, double& bottom);
    void panel (const char* name, const std::string& text, const std::string& widest, const Lettering& style, double x, double y,
                Align align);
    double lineTop (bool atTop, double rowHeight) const;
    void keep (const std::string& name, const std::string& key, const Box& box, const std::function<void (cairo_t*)>& paint);

    int width, height;
    Box picture;
    Parts parts;
    bool beside;
    Letters letters;
    double barWidth = 0, pad = 0, margin = 0;
    double figures = 0, caption = 0; ///< sizes
    std::map<std::string, Drawn> drawn;
    std::vector<Patch> patches;
};
} // namespace shutterbeat::overlay
