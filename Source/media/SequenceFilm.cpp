#include "media/SequenceFilm.h"

#include "media/DpxHeader.h"
#include "media/Presentation.h"
#include "time/Rate.h"

#include <numeric>

namespace shutterbeat::media
{
namespace
{
/// The header of the first file that is there, when it is a DPX.
DpxHeader firstHeader (const ImageSequence& files)
{
    for (std::int64_t k = 0; k < files.size(); ++k)
        if (files.has (k))
            return readDpxHeader (files.path (k)).value_or (DpxHeader{});
    return {};
}
} // namespace

void describeSequence (IndexedFilm& film, const time::Rational& declaredRate)
{
    const auto& files = *film.stream.sequence();
    auto& info = film.info;
    auto& index = film.index;
    info.frames = files.size();
    info.firstNumber = files.firstNumber;
    info.warnings = files.warnings;
    const auto header = firstHeader (files);
    if (header.rate)
        info.rate = *header.rate;
    else if (declaredRate.valid() && declaredRate.sign() > 0)
        info.rate = declaredRate;
    else
    {
        info.rate = time::Rational (24);
        info.warnings.emplace_back (
            "picture files have no rate of their own; 24 a second is taken for playing until another is given");
    }

    index.timeBase = time::Rational (1) / info.rate;
    index.packets.resize (static_cast<std::size_t> (files.size()));
    for (std::int64_t k = 0; k < files.size(); ++k)
    {
        auto& packet = index.packets[static_cast<std::size_t> (k)];
        packet.pts = packet.dts = k;
        packet.key = true;
        packet.missing = ! files.has (k);
        packet.type = PictureType::reference;
    }
    std::vector<std::int64_t> order (index.packets.size());
    std::iota (order.begin(), order.end(), 0);
    present (index, order);
}
} // namespace shutterbeat::media
