#pragma once

#include <cstdint>
#include <vector>

namespace shutterbeat::scan
{
/// The size of the grey pictures a scan takes: the whole picture squeezed into it, whatever its shape.
constexpr int scanWidth = 192;
constexpr int scanHeight = 144;

/// What one pass keeps of one file frame. Levels are grey levels, 0 to 255.
struct FrameMeasure
{
    float level = 0;      ///< mean
    float contrast = 0;   ///< standard deviation after reduction (grain gone, letters and shapes left)
    float peak = 0;       ///< level that the lightest twentieth of it passes: stays high while an iris closes, not in a fade
    float detail = 0;     ///< how far the lightest two hundredth of it stands out and stays: small writing, not dirt
    float difference = 0; ///< mean absolute difference from the file frame before, overall brightness change taken out
    float motion = 0;     ///< fourth root of the mean fourth power of the same after reduction: what moves, hardly the grain
    float cut = 0;        ///< how little this picture and the next have in common with the two before: 0 to about 1
    float fine = -1;      ///< the same at twice the resolution; -1 where cut is too small to bother
    float slow = -1;      ///< the same over a longer distance round this frame, for changes that take their time; -1 not known
    float sharp = 0;      ///< steps from pixel to pixel, of the contrast: lower where pictures are blended
    float mix = 0; ///< how much better this picture is a mixture or a division of those further off on both sides than like one
                   ///< of them: near 1 in dissolves and wipes; only where slow is large
    bool divided = false; ///< rather divided (a wipe) than a mixture (a dissolve)
    bool repeat = false;  ///< seems to show the picture of the frame before again; cut and slow are not measured then
    bool damaged = false; ///< the decoder could not make it
};

/// Black: nothing to see, dark; on a fogged print dark grey.
inline bool isBlack (const FrameMeasure& frame)
{
    const bool dark = frame.level < 14 && frame.contrast < 7.5F;
    const bool fogged = frame.level < 50 && frame.contrast < 5;
    return (dark || fogged) && frame.detail < 25;
}
/// White: nothing to see, bright.
inline bool isWhite (const FrameMeasure& frame)
{
    return frame.level > 225 && frame.contrast < 7.5F;
}
/// Black or white.
inline bool isBlank (const FrameMeasure& frame)
{
    return isBlack (frame) || isWhite (frame);
}

/// Two changes a few pictures apart, and how little the picture after the second has in common with the one before the first.
struct Return
{
    std::int64_t first = 0;  ///< file frame of the first change
    std::int64_t second = 0; ///< file frame of the second
    float distance = 0;      ///< 0: the picture came back, so what lay between was a flash or a dip
};

/// How much one file frame looks like a card.
struct CardSample
{
    std::int64_t frame = 0;
    float likelihood = 0; ///< 0 to 1
};

/// All that one pass over a file keeps: a few numbers a frame. Shots are made from it, again and again if need be.
struct Measures
{
    std::vector<FrameMeasure> frames;
    std::vector<Return> returns;   ///< rising by first
    std::vector<CardSample> cards; ///< rising by frame; every eighth frame, more after a jump
};
} // namespace shutterbeat::scan
