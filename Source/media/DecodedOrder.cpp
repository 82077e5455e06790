#include "media/DecodedOrder.h"

#include "media/Decoder.h"

namespace shutterbeat::media
{
Result<std::vector<std::int64_t>> orderByDecoding (PictureStream& film, int reorder, std::int64_t last)
{
    auto decoder = Decoder::open (film.path(), film.stream(), reorder, DecoderThreads::all);
    if (! decoder)
        return decoder.error();
    std::vector<std::int64_t> order;
    bool reached = false;
    const auto note = [&] (const DecodedFrame& decoded)
    {
        order.push_back (decoded.packet);
        reached = reached || decoded.packet == last;
    };
    for (std::int64_t number = 0; ! reached && film.next(); ++number)
        decoder->feed (film.packet(), number, note);
    if (! reached)
        decoder->drain (note);
    return order;
}
} // namespace shutterbeat::media
