#pragma once

#include "media/Libav.h"

namespace shutterbeat::media
{
/// Whether a packet's picture helps to decode no other one, so that it can be left out when nobody wants to see it. Told for
/// H.264 only, whose every unit says so (ITU-T H.264, 7.4.1, nal_ref_idc); false for other codecs and for what can't be read.
bool isDisposable (const AVCodecParameters& codec, const AVPacket& packet);
} // namespace shutterbeat::media
