#include "media/Codecs.h"

#include "media/Libav.h"

namespace shutterbeat::media
{
std::vector<CodecCheck> checkCodecs()
{
    struct Reads
    {
        const char* name;
        AVCodecID id;
    };
    constexpr Reads reads[]{
        { "H.264", AV_CODEC_ID_H264 },
        { "H.265", AV_CODEC_ID_HEVC },
        { "MPEG-1", AV_CODEC_ID_MPEG1VIDEO },
        { "MPEG-2", AV_CODEC_ID_MPEG2VIDEO },
        { "MPEG-4", AV_CODEC_ID_MPEG4 },
        { "ProRes", AV_CODEC_ID_PRORES },
        { "DNxHD and DNxHR", AV_CODEC_ID_DNXHD },
        { "DV", AV_CODEC_ID_DVVIDEO },
        { "FFV1", AV_CODEC_ID_FFV1 },
        { "Motion JPEG", AV_CODEC_ID_MJPEG },
        { "JPEG 2000", AV_CODEC_ID_JPEG2000 },
        { "DPX", AV_CODEC_ID_DPX },
        { "TIFF", AV_CODEC_ID_TIFF },
        { "PNG", AV_CODEC_ID_PNG },
        { "AV1", AV_CODEC_ID_AV1 },
        { "VP9", AV_CODEC_ID_VP9 },
        { "AAC", AV_CODEC_ID_AAC },
        { "MP3", AV_CODEC_ID_MP3 },
        { "FLAC", AV_CODEC_ID_FLAC },
        { "Vorbis", AV_CODEC_ID_VORBIS },
        { "PCM of 24 bits", AV_CODEC_ID_PCM_S24LE },
    };
    std::vector<CodecCheck> all;
    for (const auto& [name, id] : reads)
        all.push_back ({ name, false, avcodec_find_decoder (id) != nullptr });
    constexpr std::pair<const char*, const char*> writes[]{
        { "H.264", "libx264" }, { "ProRes", "prores_ks" }, { "AAC", "aac" }, { "PCM of 24 bits", "pcm_s24le" }, { "PNG", "png" }
    };
    for (const auto& [name, encoder] : writes)
        all.push_back ({ name, true, avcodec_find_encoder_by_name (encoder) != nullptr });
    return all;
}

std::string libavVersion()
{
    return av_version_info();
}
} // namespace shutterbeat::media
