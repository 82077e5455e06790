#include "media/Disposable.h"

#include <cstddef>
#include <cstdint>
#include <optional>

namespace shutterbeat::media
{
namespace
{
/// Bytes before each unit that say how long it is; 0: units are set apart by start codes (ITU-T H.264, annex B).
int lengthBytes (const AVCodecParameters& codec)
{
    // ISO/IEC 14496-15, AVCDecoderConfigurationRecord.
    return codec.extradata_size > 6 && codec.extradata[0] == 1 ? (codec.extradata[4] & 3) + 1 : 0;
}

/// What one unit says: whether it is part of a picture; nothing when pictures may depend on it.
std::optional<bool> pictureOf (std::uint8_t head)
{
    constexpr int firstSlice = 1, lastSlice = 5;
    if ((head & 0x80) != 0 || (head >> 5 & 3) != 0)
        return {};
    const int type = head & 31;
    return type >= firstSlice && type <= lastSlice;
}
} // namespace

bool isDisposable (const AVCodecParameters& codec, const AVPacket& packet)
{
    if (codec.codec_id != AV_CODEC_ID_H264 || (packet.flags & (AV_PKT_FLAG_CORRUPT | AV_PKT_FLAG_KEY)) != 0
        || av_packet_get_side_data (&packet, AV_PKT_DATA_NEW_EXTRADATA, nullptr) != nullptr)
        return false;
    const auto size = static_cast<std::size_t> (packet.size);
    const auto* data = packet.data;
    bool picture = false;
    const auto take = [&] (std::size_t at)
    {
        const auto said = pictureOf (data[at]);
        picture = picture || said.value_or (false);
        return said.has_value();
    };
    if (const auto bytes = static_cast<std::size_t> (lengthBytes (codec)); bytes > 0)
    {
        for (std::size_t at = 0; at < size;)
        {
            std::size_t length = 0;
            if (size - at < bytes)
                return false;
            for (std::size_t i = 0; i < bytes; ++i)
                length = length << 8 | data[at + i];
            at += bytes;
            if (length == 0 || length > size - at || ! take (at))
                return false;
            at += length;
        }
        return picture;
    }
    for (std::size_t at = 0; at + 3 < size; ++at)
        if (data[at] == 0 && data[at + 1] == 0 && data[at + 2] == 1 && ! take (at + 3))
            return false;
    return picture;
}
} // namespace shutterbeat::media
