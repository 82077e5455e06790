#pragma once

#include "media/FrameIndex.h"
#include "media/Libav.h"

namespace shutterbeat::media
{
/// Reads the head of a coded picture, without decoding it: its type, whether it is half a frame, whether it is shown.
class PacketParser
{
public:
    explicit PacketParser (const AVStream& stream);

    /// Fills in what the container did not say about `packet`. `previous` is the packet before it, or null.
    void read (const AVPacket& data, IndexedPacket& packet, const IndexedPacket* previous);

    /// Whether the picture types are all that is needed to put the pictures in order.
    [[nodiscard]] bool typesGiveOrder() const { return simpleOrder; }

private:
    struct ParserCloser
    {
        void operator() (AVCodecParserContext* parser) const { av_parser_close (parser); }
    };
    std::unique_ptr<AVCodecParserContext, ParserCloser> parser;
    CodecHandle codec;
    AVCodecID kind = AV_CODEC_ID_NONE;
    bool simpleOrder = false;
    int openField = 0; ///< the field that waits for its other half
};
} // namespace shutterbeat::media
