#include "media/PngFile.h"

#include "media/StillCodec.h"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <optional>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

namespace shutterbeat::media
{
namespace
{
Result<PacketHandle> encode (const std::string& path, const Picture& picture)
{
    const StillCodec png{ AV_CODEC_ID_PNG, "PNG", AV_PIX_FMT_RGB24, 0 };
    const auto frame = png.frameFor (path, picture);
    if (! frame)
        return frame.error();
    const auto rowBytes = static_cast<std::size_t> (picture.width) * 3;
    for (int y = 0; y < picture.height; ++y)
        std::memcpy ((*frame)->data[0] + std::ptrdiff_t (y) * (*frame)->linesize[0],
                     picture.rgb.data() + static_cast<std::size_t> (y) * rowBytes, rowBytes);
    return png.encode (path, **frame);
}

bool writeAll (int file, const std::uint8_t* bytes, std::size_t size)
{
    while (size > 0)
    {
        const auto written = ::write (file, bytes, size);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            return false;
        bytes += written;
        size -= static_cast<std::size_t> (written);
    }
    return true;
}
} // namespace

Result<Done> writePng (const std::string& path, const Picture& picture)
{
    const auto packet = encode (path, picture);
    if (! packet)
        return packet.error();

    const auto slash = path.rfind ('/');
    const std::string folder = slash == std::string::npos ? "" : path.substr (0, slash + 1);
    std::string temporary = folder + ".picture-XXXXXX";
    const auto reason = [&]
    { return std::string (std::strerror (errno)) + "; choose another folder, or make room and check its permissions"; };
    const int file = ::mkostemp (temporary.data(), O_CLOEXEC);
    if (file < 0)
        return cannotWrite (path, reason());
    std::optional<Error> fault;
    const mode_t mask = ::umask (0);
    ::umask (mask);
    if (! writeAll (file, (*packet)->data, static_cast<std::size_t> ((*packet)->size)) || ::fchmod (file, 0666 & ~mask) != 0
        || ::fsync (file) != 0)
        fault = cannotWrite (path, reason());
    if (::close (file) != 0 && ! fault)
        fault = cannotWrite (path, reason());
    if (! fault && ::rename (temporary.c_str(), path.c_str()) != 0)
        fault = cannotWrite (path, reason());
    if (fault)
    {
        ::unlink (temporary.c_str());
        return *std::move (fault);
    }
    return Done{};
}
} // namespace shutterbeat::media
