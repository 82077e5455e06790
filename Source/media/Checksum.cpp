#include "media/Checksum.h"

#include <array>
#include <fstream>
#include <memory>
#include <vector>

extern "C"
{
#include <libavutil/mem.h>
#include <libavutil/sha.h>
}

namespace shutterbeat::media
{
namespace
{
struct ShaFreer
{
    void operator() (AVSHA* sha) const { av_free (sha); }
};
} // namespace

Result<std::string> sha256OfFile (const std::string& path)
{
    std::ifstream file (path, std::ios::binary);
    const std::unique_ptr<AVSHA, ShaFreer> sha (av_sha_alloc());
    if (! file || ! sha || av_sha_init (sha.get(), 256) < 0)
        return unreadable (path, "can't be read; check that it is still there");
    std::vector<char> block (1 << 20);
    while (file)
    {
        file.read (block.data(), static_cast<std::streamsize> (block.size()));
        av_sha_update (sha.get(), reinterpret_cast<const std::uint8_t*> (block.data()), static_cast<std::size_t> (file.gcount()));
    }
    if (file.bad())
        return unreadable (path, "can't be read to its end; check its disk");
    std::array<std::uint8_t, 32> digest{};
    av_sha_final (sha.get(), digest.data());
    std::string text;
    constexpr char digits[] = "0123456789abcdef";
    for (const auto byte : digest)
        text += { digits[byte >> 4], digits[byte & 15] };
    return text;
}
} // namespace shutterbeat::media
