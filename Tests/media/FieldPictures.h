#pragma once

#include <string>

namespace shutterbeat::tests
{
/// A bare H.264 stream (ITU-T H.264, Annex B) of 160 x 120 in which every frame is a pair of field pictures, as broadcast
/// recorders write them and no encoder at hand does: the numbered pictures of `raw` (yuv420p), every macroblock stored
/// uncompressed (I_PCM), a key picture every `group` frames, 25 frames a second.
std::string fieldCoded (const std::string& raw, int count, int group);
} // namespace shutterbeat::tests
