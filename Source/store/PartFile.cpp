#include "store/PartFile.h"

#include <filesystem>

namespace shutterbeat::store
{
namespace
{
namespace fs = std::filesystem;
const char* const noRoom = "can't be written; the disk may be full: free some space or choose another folder";
} // namespace

PartFile::PartFile (std::string target)
    : path (std::move (target))
    , part (path + ".part")
    , file (part, std::ios::binary | std::ios::trunc)
{
}

PartFile::~PartFile()
{
    if (done)
        return;
    file.close();
    std::error_code ignored;
    fs::remove (part, ignored);
}

Result<Done> PartFile::write (std::string_view bytes)
{
    file.write (bytes.data(), static_cast<std::streamsize> (bytes.size()));
    if (! file.good())
        return cannotWrite (path, noRoom);
    return Done{};
}

Result<Done> PartFile::finish()
{
    file.close();
    std::error_code failed;
    if (! file.fail())
        fs::rename (part, path, failed);
    if (file.fail() || failed)
        return cannotWrite (path, failed ? failed.message() : noRoom);
    done = true;
    return Done{};
}
} // namespace shutterbeat::store
