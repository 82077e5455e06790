#pragma once

#include "Ink.h"

#include <functional>
#include <map>
#include <string>
#include <vector>

namespace shutterbeat::demo
{

inline constexpr int kFrameWidth = 640;
inline constexpr int kFrameHeight = 480;
inline constexpr int kMargin = 32; ///< painted beyond every edge, so that the picture can weave in the gate
inline constexpr int kStageWidth = kFrameWidth + 2 * kMargin;
inline constexpr int kStageHeight = kFrameHeight + 2 * kMargin;
inline constexpr int kFilmFramesPerSecond = 20;

/// What the camera photographs: one drawing surface, and the still backdrops of the shot being made.
class Stage
{
public:
    Stage();
    ~Stage();
    Stage (const Stage&) = delete;
    Stage& operator= (const Stage&) = delete;

    /// Forgets the backdrops of the previous shot.
    void beginShot (int lengthInFilmFrames);
    void beginFrame (int filmFrameOfShot);
    /// Paints a still picture made once a shot. It spans x from -margin to width+margin and is shown moved left by
    /// `shift`; with `wraps`, it repeats every `width`.
    void backdrop (const std::string& key, double width, double shift, bool wraps, const std::function<void (Ink&)>& draw);
    void backdrop (const std::string& key, const std::function<void (Ink&)>& draw) { backdrop (key, kFrameWidth, 0, false, draw); }
    /// Closes a round black mask to the given radius about a point.
    void iris (double x, double y, double radius);
    /// Darkens all: 0 leaves the picture, 1 is black.
    void darken (double share);
    /// The picture as greys, kStageWidth by kStageHeight.
    void read (std::vector<std::uint8_t>& grey);

    Ink ink;
    int frame = 0;    ///< film frame of the shot, from 0
    int length = 1;   ///< film frames the whole shot has
    double t = 0;     ///< seconds at 20 film frames a second
    double share = 0; ///< 0 at the head of the shot, 1 at its tail

private:
    cairo_surface_t* surface_ = nullptr;
    std::map<std::string, cairo_surface_t*> backdrops_;
};

} // namespace shutterbeat::demo
