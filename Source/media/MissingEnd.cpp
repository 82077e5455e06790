#include "media/MissingEnd.h"

#include <array>
#include <cstdint>
#include <filesystem>
#include <fstream>

namespace shutterbeat::media
{
namespace
{
bool isKind (const PictureStream& film, const std::string& name)
{
    return (std::string (",") + film.format().iformat->name + ",").find ("," + name + ",") != std::string::npos;
}

Error cutShort (const std::string& path, const std::string& how)
{
    return unreadable (path, "is cut short: " + how + "; copy it again from its source");
}

std::string seconds (std::int64_t microseconds)
{
    return time::decimalText (time::Rational (microseconds) / time::Rational (AV_TIME_BASE), 2) + " s";
}

/// An EBML variable-length number (RFC 8794, section 4) at `at`, which is moved past it. With `keepMarker` it is read as
/// an element's name. -1: not there, or a size that is not known.
std::int64_t ebmlNumber (const std::string& bytes, std::size_t& at, bool keepMarker)
{
    if (at >= bytes.size())
        return -1;
    const auto first = static_cast<std::uint8_t> (bytes[at]);
    int length = 1;
    while (length <= 8 && (first & (0x80 >> (length - 1))) == 0)
        ++length;
    if (length > 8 || at + static_cast<std::size_t> (length) > bytes.size())
        return -1;
    std::int64_t value = keepMarker ? first : first & (0x7f >> (length - 1));
    bool allOnes = (first | (0xff00 >> length & 0xff)) == 0xff;
    for (int i = 1; i < length; ++i)
    {
        const auto byte = static_cast<std::uint8_t> (bytes[at + static_cast<std::size_t> (i)]);
        value = value << 8 | byte;
        allOnes = allOnes && byte == 0xff;
    }
    at += static_cast<std::size_t> (length);
    return allOnes && ! keepMarker ? -1 : value;
}

/// How many bytes the container says there are, counted from the beginning of the file; -1 when it does not say.
std::int64_t statedBytes (const PictureStream& film)
{
    std::ifstream file (film.path(), std::ios::binary);
    std::string head (4096, '\0');
    file.read (head.data(), static_cast<std::streamsize> (head.size()));
    head.resize (static_cast<std::size_t> (file.gcount()));
    if (isKind (film, "avi") && head.size() > 12 && head.starts_with ("RIFF"))
    {
        std::int64_t size = 0;
        for (std::size_t i = 0; i < 4; ++i)
            size |= std::int64_t (static_cast<std::uint8_t> (head[4 + i])) << (8 * i);
        return size > 0 && size < 0xffffffff ? size + 8 : -1;
    }
    if (isKind (film, "matroska"))
    {
        std::size_t at = 0;
        if (ebmlNumber (head, at, true) != 0x1a45dfa3)
            return -1;
        const auto header = ebmlNumber (head, at, false);
        if (header < 0)
            return -1;
        at += static_cast<std::size_t> (header);
        if (ebmlNumber (head, at, true) != 0x18538067)
            return -1;
        const auto segment = ebmlNumber (head, at, false);
        return segment < 0 ? -1 : segment + static_cast<std::int64_t> (at);
    }
    return -1;
}
} // namespace

std::optional<Error> missingEnd (const PictureStream& film)
{
    std::error_code trouble;
    const auto size = static_cast<std::int64_t> (std::filesystem::file_size (film.path(), trouble));
    if (isKind (film, "mov"))
    {
        auto& stream = film.stream();
        const int listed = avformat_index_get_entries_count (&stream);
        int present = 0;
        for (int i = 0; i < listed; ++i)
            if (const auto* entry = avformat_index_get_entry (&stream, i); entry->pos + entry->size <= size)
                ++present;
        if (present < listed)
            return cutShort (film.path(), "its table lists " + std::to_string (listed) + " pictures, but only "
                                              + std::to_string (present) + " lie in the file");
    }
    if (const auto stated = statedBytes (film); stated > size)
        return cutShort (film.path(),
                         "it should have " + std::to_string (stated) + " bytes, but has only " + std::to_string (size));
    return {};
}

std::string doubtfulEnd (const PictureStream& film)
{
    if (film.endReason() != 0)
        return "could not be read to its end (" + libavText (film.endReason()) + "); check the disk, or copy it again";
    const auto& format = film.format();
    const auto begin = format.start_time == AV_NOPTS_VALUE ? 0 : format.start_time;
    if (format.duration_estimation_method == AVFMT_DURATION_FROM_STREAM && format.duration > 0 && film.latestEnd() > 0
        && film.latestEnd() - begin < format.duration - AV_TIME_BASE)
        return "says that it lasts " + seconds (format.duration) + ", but ends after " + seconds (film.latestEnd() - begin)
               + "; it may be cut short";
    return {};
}
} // namespace shutterbeat::media
