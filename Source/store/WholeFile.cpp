#include "store/WholeFile.h"

#include <cerrno>
#include <cstdint>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <sys/stat.h>
#include <unistd.h>

namespace shutterbeat::store
{
namespace
{
constexpr std::int64_t largest = std::int64_t{ 1 } << 30;

/// Closes a file descriptor when the scope ends.
struct Descriptor
{
    int fd = -1;
    explicit Descriptor (int opened)
        : fd (opened)
    {
    }
    Descriptor (const Descriptor&) = delete;
    Descriptor& operator= (const Descriptor&) = delete;
    ~Descriptor()
    {
        if (fd >= 0)
            ::close (fd);
    }
};

std::string reason (int code)
{
    switch (code)
    {
    case ENOENT:
        return "there is no such file or folder; check the name";
    case EACCES:
    case EPERM:
        return "no permission; check who may read or write it";
    case ENOSPC:
    case EDQUOT:
        return "the disk is full; make room and try again";
    case EROFS:
        return "the disk is read-only; choose another folder";
    case EISDIR:
        return "it is a folder; name a file";
    default:
        return std::string ("it failed (") + std::strerror (code) + ")";
    }
}

/// A link is written through, so that a book kept elsewhere stays where it is.
std::string target (const std::string& path)
{
    std::error_code failed;
    const auto real = std::filesystem::canonical (path, failed);
    return failed ? path : real.string();
}
} // namespace

Result<std::string> readWhole (const std::string& path)
{
    Descriptor file (::open (path.c_str(), O_RDONLY | O_CLOEXEC));
    if (file.fd < 0)
        return unreadable (path, reason (errno));
    struct stat info = {};
    if (::fstat (file.fd, &info) != 0)
        return unreadable (path, reason (errno));
    if (S_ISDIR (info.st_mode))
        return unreadable (path, reason (EISDIR));
    if (info.st_size > largest)
        return unreadable (path, "it is larger than 1 GiB, which no file of this kind is");
    std::string bytes;
    char block[65536];
    for (;;)
    {
        const auto count = ::read (file.fd, block, sizeof block);
        if (count < 0 && errno == EINTR)
            continue;
        if (count < 0)
            return unreadable (path, reason (errno));
        if (count == 0)
            return bytes;
        bytes.append (block, static_cast<std::size_t> (count));
        if (static_cast<std::int64_t> (bytes.size()) > largest)
            return unreadable (path, "it is larger than 1 GiB, which no file of this kind is");
    }
}

Result<Done> writeWhole (const std::string& asked, std::string_view bytes)
{
    const std::string path = target (asked);
    std::error_code ignored;
    if (std::filesystem::is_directory (path, ignored))
        return cannotWrite (asked, reason (EISDIR));
    std::string temporary = path + ".new-XXXXXX";
    Descriptor file (::mkostemp (temporary.data(), O_CLOEXEC));
    if (file.fd < 0)
        return cannotWrite (asked, reason (errno));
    const auto fail = [&] (int code) -> Result<Done>
    {
        ::unlink (temporary.c_str());
        return cannotWrite (asked, reason (code));
    };
    for (std::size_t done = 0; done < bytes.size();)
    {
        const auto count = ::write (file.fd, bytes.data() + done, bytes.size() - done);
        if (count < 0 && errno == EINTR)
            continue;
        if (count < 0)
            return fail (errno);
        done += static_cast<std::size_t> (count);
    }
    // mkostemp makes the file private; a book is shared the way the one before it was, or as a new file would be.
    struct stat before = {};
    if (::stat (path.c_str(), &before) == 0)
        ::fchmod (file.fd, before.st_mode & 07777);
    else
    {
        const auto mask = ::umask (0);
        ::umask (mask);
        ::fchmod (file.fd, 0666 & ~mask);
    }
    if (::fsync (file.fd) != 0)
        return fail (errno);
    if (::rename (temporary.c_str(), path.c_str()) != 0)
        return fail (errno);
    auto folder = std::filesystem::path (path).parent_path();
    Descriptor directory (::open (folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (directory.fd >= 0)
        ::fsync (directory.fd);
    return Done{};
}

std::string stampOf (std::string_view bytes)
{
    std::uint64_t hash = 0xcbf29ce484222325u;
    for (const char c : bytes)
        hash = (hash ^ static_cast<unsigned char> (c)) * 0x100000001b3u;
    std::string text = std::to_string (bytes.size()) + "-";
    for (int shift = 60; shift >= 0; shift -= 4)
        text += "0123456789abcdef"[(hash >> shift) & 15];
    return text;
}
} // namespace shutterbeat::store
