#include "media/IndexCode.h"

#include <cstdint>
#include <limits>
#include <utility>

namespace shutterbeat::media
{
namespace
{
/// Raised whenever what is kept, or how it is found out, changes.
constexpr std::string_view magic = "shutterbeat index 2\n";

std::uint64_t checksum (std::string_view bytes)
{
    std::uint64_t hash = 14695981039346656037ULL; // FNV-1a
    for (const char byte : bytes)
        hash = (hash ^ static_cast<std::uint8_t> (byte)) * 1099511628211ULL;
    return hash;
}

/// Whole numbers seven bits a byte, small ones short whatever their sign.
class Writer
{
public:
    std::string bytes;

    void number (std::int64_t value)
    {
        auto rest = static_cast<std::uint64_t> (value) << 1 ^ static_cast<std::uint64_t> (value >> 63);
        for (; rest >= 128; rest >>= 7)
            bytes.push_back (static_cast<char> ((rest & 127) | 128));
        bytes.push_back (static_cast<char> (rest));
    }
    void text (const std::string& value)
    {
        number (static_cast<std::int64_t> (value.size()));
        bytes += value;
    }
    void rational (const time::Rational& value) { text (time::fractionText (value)); }
};

/// Never reads past the end; after anything that does not fit, sound() is false and all values are zero.
class Reader
{
public:
    explicit Reader (std::string_view from)
        : rest (from)
    {
    }

    [[nodiscard]] bool sound() const { return good; }
    [[nodiscard]] bool atEnd() const { return good && rest.empty(); }

    std::int64_t number()
    {
        std::uint64_t value = 0;
        for (int shift = 0; shift < 64; shift += 7)
        {
            if (rest.empty())
                break;
            const auto byte = static_cast<std::uint8_t> (rest.front());
            rest.remove_prefix (1);
            if (shift == 63 && byte > 1)
                break; // more than 64 bits
            value |= static_cast<std::uint64_t> (byte & 127) << shift;
            if (byte < 128)
                return static_cast<std::int64_t> (value >> 1) ^ -static_cast<std::int64_t> (value & 1);
        }
        good = false;
        return 0;
    }
    /// How many things follow, each at least one byte long.
    std::size_t count()
    {
        const auto value = number();
        if (value < 0 || static_cast<std::uint64_t> (value) > rest.size())
            good = false;
        return good ? static_cast<std::size_t> (value) : 0;
    }
    std::string text()
    {
        const auto size = count();
        std::string value (rest.substr (0, size));
        rest.remove_prefix (size);
        return value;
    }
    time::Rational rational()
    {
        const auto value = time::parseRational (text());
        if (! value)
            good = false;
        return value ? *value : time::Rational (0);
    }

private:
    std::string_view rest;
    bool good = true;
};

// Timestamps rise by about as much each time, so what is written is how far they are from the last; noTimestamp, which
// no sum of sound values comes near, goes as a flag.
enum PacketFlags
{
    isKey = 1,
    isHidden = 2,
    isSecondField = 4,
    hasPts = 8,
    hasDts = 16,
    hasPos = 32
};

std::int64_t lessThan (std::int64_t value, std::int64_t last)
{
    return static_cast<std::int64_t> (static_cast<std::uint64_t> (value) - static_cast<std::uint64_t> (last));
}

std::int64_t plus (std::int64_t value, std::int64_t more)
{
    return static_cast<std::int64_t> (static_cast<std::uint64_t> (value) + static_cast<std::uint64_t> (more));
}

/// A number of a list as it is kept; one that no list is long enough for leads nowhere.
std::int32_t narrow (std::int64_t value)
{
    return value < -1 || value > std::numeric_limits<std::int32_t>::max() ? -2 : static_cast<std::int32_t> (value);
}

void writeIndex (Writer& out, const FrameIndex& index)
{
    out.rational (index.timeBase);
    out.number (index.reorder);
    out.number (index.undecodable);
    out.number (index.ordered ? 1 : 0);
    out.number (static_cast<std::int64_t> (index.packets.size()));
    IndexedPacket last;
    last.pts = last.dts = last.pos = 0;
    for (const auto& packet : index.packets)
    {
        out.number ((packet.key ? isKey : 0) | (packet.hidden ? isHidden : 0) | (packet.secondField ? isSecondField : 0)
                    | (packet.pts != noTimestamp ? hasPts : 0) | (packet.dts != noTimestamp ? hasDts : 0)
                    | (packet.pos != -1 ? hasPos : 0) | static_cast<int> (packet.type) << 6);
        const auto delta = [&] (std::int64_t value, std::int64_t& before, bool known)
        {
            if (known)
                out.number (lessThan (value, std::exchange (before, value)));
        };
        delta (packet.pts, last.pts, packet.pts != noTimestamp);
        delta (packet.dts, last.dts, packet.dts != noTimestamp);
        delta (packet.pos, last.pos, packet.pos != -1);
        out.number (lessThan (packet.frame, std::exchange (last.frame, packet.frame)));
    }
    out.number (index.size());
    PresentedFrame before{ 0, 0, false };
    for (const auto& frame : index.frames)
    {
        out.number (lessThan (frame.pts, std::exchange (before.pts, frame.pts)));
        out.number (lessThan (frame.packet, std::exchange (before.packet, frame.packet)) * 2 + (frame.key ? 1 : 0));
    }
}

FrameIndex readIndex (Reader& in)
{
    FrameIndex index;
    index.timeBase = in.rational();
    index.reorder = static_cast<int> (in.number());
    index.undecodable = in.number();
    index.ordered = in.number() != 0;
    index.packets.resize (in.count());
    IndexedPacket last;
    last.pts = last.dts = last.pos = 0;
    for (auto& packet : index.packets)
    {
        const auto flags = in.number();
        packet.key = (flags & isKey) != 0;
        packet.hidden = (flags & isHidden) != 0;
        packet.secondField = (flags & isSecondField) != 0;
        packet.type = static_cast<PictureType> (flags >> 6 & 3);
        const auto delta = [&] (std::int64_t& value, std::int64_t& before, bool known)
        {
            if (known)
                value = before = plus (before, in.number());
        };
        delta (packet.pts, last.pts, (flags & hasPts) != 0);
        delta (packet.dts, last.dts, (flags & hasDts) != 0);
        delta (packet.pos, last.pos, (flags & hasPos) != 0);
        packet.frame = last.frame = narrow (plus (last.frame, in.number()));
    }
    index.frames.resize (in.count());
    PresentedFrame before{ 0, 0, false };
    for (auto& frame : index.frames)
    {
        frame.pts = before.pts = plus (before.pts, in.number());
        const auto step = in.number();
        frame.key = (step & 1) != 0;
        frame.packet = before.packet = narrow (plus (before.packet, step >> 1));
    }
    return index;
}

/// Every number that leads from one list into another must lead somewhere.
bool fits (const KnownFilm& film)
{
    const auto packets = static_cast<std::int64_t> (film.index.packets.size());
    const auto frames = film.index.size();
    if (frames < 1 || film.info.frames != frames || film.info.width < 1 || film.info.height < 1 || film.info.rate.sign() <= 0
        || film.index.timeBase.sign() <= 0 || film.index.reorder < 0 || film.index.reorder > 16)
        return false;
    for (const auto& packet : film.index.packets)
        if (packet.frame < -1 || packet.frame >= frames)
            return false;
    for (const auto& frame : film.index.frames)
        if (frame.packet < 0 || frame.packet >= packets)
            return false;
    return true;
}
} // namespace

std::string encodeIndex (const KnownFilm& film)
{
    Writer out;
    const auto& info = film.info;
    out.text (info.identity);
    out.number (info.frames);
    out.rational (info.rate);
    out.number (info.variableRate ? 1 : 0);
    out.text (info.startLabel);
    out.rational (info.startRate.perSecond);
    out.number (info.startRate.dropFrame ? 1 : 0);
    out.number (info.startFrame);
    out.text (info.reelName);
    out.number (info.width);
    out.number (info.height);
    out.number (info.rotation);
    out.text (info.codec);
    out.number (info.hasSound ? 1 : 0);
    out.rational (info.containerStart);
    out.number (static_cast<std::int64_t> (info.warnings.size()));
    for (const auto& warning : info.warnings)
        out.text (warning);
    writeIndex (out, film.index);
    Writer sum;
    sum.number (static_cast<std::int64_t> (checksum (out.bytes)));
    return std::string (magic) + std::to_string (out.bytes.size()) + "\n" + out.bytes + sum.bytes;
}

std::optional<KnownFilm> decodeIndex (std::string_view bytes)
{
    if (! bytes.starts_with (magic))
        return {};
    bytes.remove_prefix (magic.size());
    const auto line = bytes.find ('\n');
    if (line == std::string_view::npos || line > 18)
        return {};
    std::size_t size = 0;
    for (const char digit : bytes.substr (0, line))
    {
        if (digit < '0' || digit > '9')
            return {};
        size = size * 10 + static_cast<std::size_t> (digit - '0');
    }
    bytes.remove_prefix (line + 1);
    if (size > bytes.size())
        return {};
    Reader sum (bytes.substr (size));
    if (static_cast<std::uint64_t> (sum.number()) != checksum (bytes.substr (0, size)) || ! sum.atEnd())
        return {};

    Reader in (bytes.substr (0, size));
    KnownFilm film;
    auto& info = film.info;
    info.identity = in.text();
    info.frames = in.number();
    info.rate = in.rational();
    info.variableRate = in.number() != 0;
    info.startLabel = in.text();
    info.startRate.perSecond = in.rational();
    info.startRate.dropFrame = in.number() != 0;
    info.startFrame = in.number();
    info.reelName = in.text();
    info.width = static_cast<int> (in.number());
    info.height = static_cast<int> (in.number());
    info.rotation = static_cast<int> (in.number());
    info.codec = in.text();
    info.hasSound = in.number() != 0;
    info.containerStart = in.rational();
    info.warnings.resize (in.count());
    for (auto& warning : info.warnings)
        warning = in.text();
    film.index = readIndex (in);
    if (! in.atEnd() || ! fits (film))
        return {};
    film.index.noteKeys();
    return film;
}
} // namespace shutterbeat::media
