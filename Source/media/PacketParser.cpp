#include "media/PacketParser.h"

namespace shutterbeat::media
{
namespace
{
bool ordersByType (AVCodecID codec)
{
    return codec == AV_CODEC_ID_MPEG1VIDEO || codec == AV_CODEC_ID_MPEG2VIDEO || codec == AV_CODEC_ID_MPEG4;
}

bool neverReorders (AVCodecID codec)
{
    const AVCodecDescriptor* described = avcodec_descriptor_get (codec);
    return described != nullptr
           && ((described->props & AV_CODEC_PROP_INTRA_ONLY) != 0 || (described->props & AV_CODEC_PROP_REORDER) == 0);
}
} // namespace

PacketParser::PacketParser (const AVStream& stream)
    : kind (stream.codecpar->codec_id)
    , simpleOrder (ordersByType (kind) || neverReorders (kind))
{
    if (! ordersByType (kind) && kind != AV_CODEC_ID_H264)
        return;
    parser.reset (av_parser_init (static_cast<int> (kind)));
    codec.reset (avcodec_alloc_context3 (nullptr));
    if (parser == nullptr || codec == nullptr || avcodec_parameters_to_context (codec.get(), stream.codecpar) < 0)
    {
        parser.reset();
        return;
    }
    parser->flags |= PARSER_FLAG_COMPLETE_FRAMES;
}

void PacketParser::read (const AVPacket& data, IndexedPacket& packet, const IndexedPacket* previous)
{
    // VP8 (RFC 6386, 9.1): a clear fifth bit says that the picture is only decoded, to be referred to.
    if (kind == AV_CODEC_ID_VP8 && data.size > 0 && (data.data[0] & 0x10) == 0)
        packet.hidden = true;
    if (parser == nullptr || data.size == 0)
        return;
    std::uint8_t* out = nullptr;
    int outSize = 0;
    av_parser_parse2 (parser.get(), codec.get(), &out, &outSize, data.data, data.size, data.pts, data.dts, data.pos);
    packet.type = parser->pict_type == AV_PICTURE_TYPE_B      ? PictureType::between
                  : parser->pict_type == AV_PICTURE_TYPE_NONE ? PictureType::unknown
                                                              : PictureType::reference;
    if (kind != AV_CODEC_ID_H264)
        return;
    // Where a picture is renewed strip by strip (a recovery point that is no intra picture), what is decoded from there
    // only comes close to what is decoded from the start.
    if (packet.key && parser->pict_type != AV_PICTURE_TYPE_I)
        packet.key = false;
    const int field = parser->picture_structure == AV_PICTURE_STRUCTURE_TOP_FIELD
                              || parser->picture_structure == AV_PICTURE_STRUCTURE_BOTTOM_FIELD
                          ? static_cast<int> (parser->picture_structure)
                          : 0;
    if (field != 0 && openField != 0 && field != openField && previous != nullptr)
    {
        packet.secondField = true;
        openField = 0;
    }
    else
        openField = field;
}
} // namespace shutterbeat::media
