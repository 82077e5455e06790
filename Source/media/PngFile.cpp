#include "media/PngFile.h"

#include "media/Libav.h"

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
    const auto failed = [&] (const std::string& why) { return cannotWrite (path, "the picture can't be made into a PNG: " + why); };
    const AVCodec* png = avcodec_find_encoder (AV_CODEC_ID_PNG);
    if (png == nullptr)
        return failed ("this libav has no PNG encoder; install the full FFmpeg libraries");
    const CodecHandle codec (avcodec_alloc_context3 (png));
    codec->width = picture.width;
    codec->height = picture.height;
    codec->pix_fmt = AV_PIX_FMT_RGB24;
    codec->time_base = { 1, 1 };
    codec->thread_count = 1;
    const FrameHandle frame (av_frame_alloc());
    frame->format = AV_PIX_FMT_RGB24;
    frame->width = picture.width;
    frame->height = picture.height;
    frame->pts = 0;
    PacketHandle packet (av_packet_alloc());
    if (int code = avcodec_open2 (codec.get(), png, nullptr); code < 0)
        return failed (libavText (code));
    if (int code = av_frame_get_buffer (frame.get(), 0); code < 0)
        return failed (libavText (code));
    const auto rowBytes = static_cast<std::size_t> (picture.width) * 3;
    for (int y = 0; y < picture.height; ++y)
        std::memcpy (frame->data[0] + std::ptrdiff_t (y) * frame->linesize[0],
                     picture.rgb.data() + static_cast<std::size_t> (y) * rowBytes, rowBytes);
    int code = avcodec_send_frame (codec.get(), frame.get());
    if (code >= 0)
        code = avcodec_send_frame (codec.get(), nullptr);
    if (code >= 0)
        code = avcodec_receive_packet (codec.get(), packet.get());
    if (code < 0)
        return failed (libavText (code));
    return packet;
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
    silenceLibav();
    if (picture.width < 1 || picture.height < 1
        || picture.rgb.size()
               != std::size_t (3) * static_cast<std::size_t> (picture.width) * static_cast<std::size_t> (picture.height))
        return usageError (path, "the picture's bytes don't fit its size of " + std::to_string (picture.width) + " x "
                                     + std::to_string (picture.height));
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
