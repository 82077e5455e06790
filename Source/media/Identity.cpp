#include "media/Identity.h"

#include "media/ImageSequence.h"

extern "C"
{
#include <libavutil/mem.h>
#include <libavutil/sha.h>
}

#include <algorithm>
#include <array>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <memory>
#include <vector>

namespace shutterbeat::media
{
namespace
{
class Hash
{
public:
    Hash()
        : sha (av_sha_alloc(), av_free)
    {
        av_sha_init (sha.get(), 256);
    }
    void add (const void* bytes, std::size_t size) { av_sha_update (sha.get(), static_cast<const std::uint8_t*> (bytes), size); }
    /// The size and half of the hash.
    std::string text (std::int64_t size)
    {
        std::array<std::uint8_t, 32> digest{};
        av_sha_final (sha.get(), digest.data());
        std::string text = std::to_string (size) + "-";
        for (std::size_t i = 0; i < 12; ++i)
            for (const int shift : { 4, 0 })
                text += "0123456789abcdef"[(digest[i] >> shift) & 15];
        return text;
    }

private:
    std::unique_ptr<AVSHA, void (*) (void*)> sha;
};

/// Adds blocks from head, middle and end of a file. Its size, or less than 0 when it can't be read.
std::int64_t addFile (Hash& hash, const std::string& path)
{
    constexpr std::int64_t block = 65536;
    std::ifstream file (path, std::ios::binary | std::ios::ate);
    const auto size = static_cast<std::int64_t> (file.tellg());
    if (! file || size < 0)
        return -1;
    std::vector<char> bytes (static_cast<std::size_t> (block));
    for (const auto at : { std::int64_t (0), size / 4, size / 2, size / 4 * 3, size - block })
    {
        file.seekg (std::max<std::int64_t> (0, at));
        file.read (bytes.data(), block);
        hash.add (bytes.data(), static_cast<std::size_t> (file.gcount()));
        file.clear();
    }
    return size;
}

Error cannotRead (const std::string& path)
{
    return unreadable (path, "can't be read; check that the file is there and that its permissions allow it");
}

Result<std::string> sequenceIdentity (const ImageSequence& files)
{
    Hash hash;
    std::int64_t all = 0;
    for (std::int64_t k = 0; k < files.size(); ++k)
    {
        std::error_code trouble;
        const auto bytes = files.has (k) ? std::filesystem::file_size (files.path (k), trouble) : std::uintmax_t (0);
        const auto size = trouble ? std::int64_t (0) : static_cast<std::int64_t> (bytes);
        all += size;
        const auto text = std::to_string (size) + "\n";
        hash.add (text.data(), text.size());
    }
    for (const auto k : { std::int64_t (0), files.size() / 2, files.size() - 1 })
        if (files.has (k) && addFile (hash, files.path (k)) < 0)
            return cannotRead (files.path (k));
    return hash.text (all);
}
} // namespace

Result<std::string> fileIdentity (const std::string& path)
{
    const auto sequence = findSequence (path);
    if (! sequence)
        return sequence.error();
    if (*sequence)
        return sequenceIdentity (**sequence);
    Hash hash;
    const auto size = addFile (hash, path);
    if (size < 0)
        return cannotRead (path);
    return hash.text (size);
}
} // namespace shutterbeat::media
