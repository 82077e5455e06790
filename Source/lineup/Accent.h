#pragma once

#include "lineup/Onsets.h"

#include <optional>

namespace shutterbeat::lineup
{
/// What is heard near a place where music was to strike.
struct Accent
{
    double seconds = 0; ///< from sample 0
    float strength = 0;
    bool alone = true; ///< false: another clear accent lies within reach, about as near
};

/// What makes an accent clear.
struct AccentLook
{
    float least = 0.05f;  ///< flux of an attack that can be called one; soft entries, tremolo and legato stay below
    float share = 0.25f;  ///< of the sound's usual strong onset: a stroke that drowns in the rest is none
    double reach = 0.200; ///< seconds early or late
};

/// The clear accent nearest to a moment, or nothing: "no clear accent here" is better than a wrong number. `onsets` are
/// sharpOnsets, whole and rising. An onset counts only when its attack was found in the samples themselves.
std::optional<Accent> accentNear (const std::vector<Onset>& onsets, double seconds, const AccentLook& look = {});
} // namespace shutterbeat::lineup
