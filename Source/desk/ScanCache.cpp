#include "desk/ScanCache.h"

#include "media/CacheFolder.h"
#include "media/IndexCache.h"
#include "store/WholeFile.h"

#include <algorithm>
#include <bit>
#include <cstdint>
#include <filesystem>
#include <vector>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;

// Raised whenever something else is measured.
constexpr std::string_view magic = "shutterbeat scan 2\n";
constexpr std::uintmax_t mostBytes = std::uintmax_t (512) << 20;
constexpr const char* ending = ".scan";

class Writer
{
public:
    std::string bytes;

    void number (std::uint64_t value, int width)
    {
        for (int i = 0; i < width; ++i)
            bytes.push_back (static_cast<char> (value >> (8 * i) & 0xFFU));
    }
    void real (float value) { number (std::bit_cast<std::uint32_t> (value), 4); }
};

/// Never reads past the end; after that all values are zero.
class Reader
{
public:
    explicit Reader (std::string_view from)
        : rest (from)
    {
    }
    [[nodiscard]] bool atEnd() const { return good && rest.empty(); }
    /// How many entries of so many bytes can follow at most.
    [[nodiscard]] std::size_t room (std::size_t each) const { return rest.size() / each; }

    std::uint64_t number (int width)
    {
        const auto bytes = static_cast<std::size_t> (width);
        if (! good || rest.size() < bytes)
        {
            good = false;
            return 0;
        }
        std::uint64_t value = 0;
        for (std::size_t i = 0; i < bytes; ++i)
            value |= static_cast<std::uint64_t> (static_cast<std::uint8_t> (rest[i])) << (8 * i);
        rest.remove_prefix (bytes);
        return value;
    }
    float real() { return std::bit_cast<float> (static_cast<std::uint32_t> (number (4))); }

private:
    std::string_view rest;
    bool good = true;
};

/// Every member that is a number, in a fixed order.
template <class Frame, class Each>
void eachReal (Frame& frame, Each each)
{
    for (auto* value : { &frame.level, &frame.contrast, &frame.peak, &frame.detail, &frame.difference, &frame.motion, &frame.cut,
                         &frame.fine, &frame.slow, &frame.sharp, &frame.mix })
        each (*value);
}
constexpr std::size_t frameBytes = 11 * 4 + 1;
constexpr std::size_t returnBytes = 8 + 8 + 4;
constexpr std::size_t cardBytes = 8 + 4;

std::string folder()
{
    const auto index = media::indexCacheFolder();
    return index.empty() ? "" : (fs::path (index).parent_path() / "scan").string();
}

std::string entryPath (const std::string& path, const std::string& identity)
{
    std::error_code trouble;
    const auto written = fs::last_write_time (path, trouble);
    const auto in = folder();
    if (in.empty() || identity.empty() || trouble)
        return {};
    return in + "/" + identity + "-" + std::to_string (written.time_since_epoch().count()) + ending;
}
} // namespace

std::string measuresBytes (const scan::Measures& measures)
{
    Writer out;
    out.number (measures.frames.size(), 8);
    for (const auto& frame : measures.frames)
    {
        eachReal (frame, [&] (float value) { out.real (value); });
        out.number ((frame.divided ? 1U : 0U) | (frame.repeat ? 2U : 0U) | (frame.damaged ? 4U : 0U), 1);
    }
    out.number (measures.returns.size(), 8);
    for (const auto& back : measures.returns)
    {
        out.number (static_cast<std::uint64_t> (back.first), 8);
        out.number (static_cast<std::uint64_t> (back.second), 8);
        out.real (back.distance);
    }
    out.number (measures.cards.size(), 8);
    for (const auto& card : measures.cards)
    {
        out.number (static_cast<std::uint64_t> (card.frame), 8);
        out.real (card.likelihood);
    }
    return std::string (magic) + store::stampOf (out.bytes) + "\n" + out.bytes;
}

std::optional<scan::Measures> measuresFrom (std::string_view bytes)
{
    if (bytes.substr (0, magic.size()) != magic)
        return {};
    bytes.remove_prefix (magic.size());
    const auto line = bytes.find ('\n');
    if (line == std::string_view::npos || bytes.substr (0, line) != store::stampOf (bytes.substr (line + 1)))
        return {};
    Reader in (bytes.substr (line + 1));
    scan::Measures measures;
    const auto count = [&] (std::size_t each)
    { return static_cast<std::size_t> (std::min<std::uint64_t> (in.number (8), in.room (each))); };
    measures.frames.resize (count (frameBytes));
    for (auto& frame : measures.frames)
    {
        eachReal (frame, [&] (float& value) { value = in.real(); });
        const auto flags = in.number (1);
        frame.divided = (flags & 1U) != 0;
        frame.repeat = (flags & 2U) != 0;
        frame.damaged = (flags & 4U) != 0;
    }
    measures.returns.resize (count (returnBytes));
    for (auto& back : measures.returns)
    {
        back.first = static_cast<std::int64_t> (in.number (8));
        back.second = static_cast<std::int64_t> (in.number (8));
        back.distance = in.real();
    }
    measures.cards.resize (count (cardBytes));
    for (auto& card : measures.cards)
    {
        card.frame = static_cast<std::int64_t> (in.number (8));
        card.likelihood = in.real();
    }
    if (! in.atEnd())
        return {};
    return measures;
}

std::optional<scan::Measures> readCachedScan (const std::string& path, const std::string& identity)
{
    const auto entry = entryPath (path, identity);
    std::error_code trouble;
    if (entry.empty() || ! fs::exists (entry, trouble))
        return {};
    const auto bytes = store::readWhole (entry);
    auto measures = bytes ? measuresFrom (*bytes) : std::nullopt;
    if (measures)
        fs::last_write_time (entry, fs::file_time_type::clock::now(), trouble);
    else
        fs::remove (entry, trouble);
    return measures;
}

void writeCachedScan (const std::string& path, const std::string& identity, const scan::Measures& measures)
{
    const auto entry = entryPath (path, identity);
    std::error_code trouble;
    if (entry.empty())
        return;
    fs::create_directories (folder(), trouble);
    if (trouble || ! store::writeWhole (entry, measuresBytes (measures)))
        return;
    media::makeRoomIn (folder(), ending, ".new-", mostBytes);
}
} // namespace shutterbeat::desk
