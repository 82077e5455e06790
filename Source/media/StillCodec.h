#pragma once

#include "media/Libav.h"
#include "media/Picture.h"
#include "time/Result.h"

#include <string>

namespace shutterbeat::media
{
/// One picture through an encoder of libav.
struct StillCodec
{
    AVCodecID id = AV_CODEC_ID_NONE;
    std::string name;                       ///< "PNG", for what is said
    AVPixelFormat format = AV_PIX_FMT_NONE; ///< of its frames
    int quality = 0;                        ///< libav's quantiser; 0: the encoder loses nothing

    /// A frame of that size and format, to be filled. Error cannotWrite, as all of these with `where` as given.
    [[nodiscard]] Result<FrameHandle> frameFor (const std::string& where, const Picture& picture) const;
    /// The whole picture as the one packet it becomes; the same frame gives the same bytes with one version of libav.
    [[nodiscard]] Result<PacketHandle> encode (const std::string& where, const AVFrame& frame) const;
    [[nodiscard]] Error failed (const std::string& where, const std::string& why) const;
};
} // namespace shutterbeat::media
