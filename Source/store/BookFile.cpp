#include "store/BookFile.h"

#include "store/WholeFile.h"

#include <fcntl.h>
#include <filesystem>
#include <sys/file.h>
#include <unistd.h>

namespace shutterbeat::store
{
namespace
{
/// Held by whoever is between looking at a book on disk and replacing it, so that two savers take turns.
class SaveLock
{
public:
    explicit SaveLock (const std::string& path)
    {
        auto folder = std::filesystem::path (path).parent_path();
        fd = ::open (folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
        if (fd >= 0)
            ::flock (fd, LOCK_EX);
    }
    SaveLock (const SaveLock&) = delete;
    SaveLock& operator= (const SaveLock&) = delete;
    ~SaveLock()
    {
        if (fd >= 0)
            ::close (fd);
    }

private:
    int fd = -1;
};
/// Half-written copies that a killed program left beside the book. Only while the lock is held: then nobody is writing one.
void removeLeftovers (const std::string& path)
{
    const std::filesystem::path book (path);
    const std::string start = book.filename().string() + ".new-";
    std::error_code failed;
    for (std::filesystem::directory_iterator entry (book.has_parent_path() ? book.parent_path() : ".", failed), end;
         ! failed && entry != end; entry.increment (failed))
    {
        const auto name = entry->path().filename().string();
        if (name.size() == start.size() + 6 && name.compare (0, start.size(), start) == 0)
        {
            std::error_code ignored;
            std::filesystem::remove (entry->path(), ignored);
        }
    }
}
} // namespace

Result<Loaded> loadBook (const std::string& path)
{
    auto bytes = readWhole (path);
    if (! bytes)
        return bytes.error();
    if (bytes->empty())
        return unreadable (path, "the book is empty; open a backup of it");
    auto book = parseBook (*bytes, path);
    if (! book)
        return book.error();
    return Loaded{ std::move (*book), stampOf (*bytes) };
}

Result<std::string> saveBook (const std::string& path, const spotting::Book& book, const std::string& stamp)
{
    const std::string text = bookText (book);
    SaveLock lock (path);
    std::error_code failed;
    const bool there = std::filesystem::exists (path, failed);
    if (stamp.empty() && there)
        return Error{ ErrorCode::cannotWrite, path,
                      "there is a book of that name already; choose another name or remove it first" };
    if (! stamp.empty() && there)
    {
        const auto now = readWhole (path);
        if (! now || stampOf (*now) != stamp)
            return Error{ ErrorCode::conflict, path,
                          "somebody else has saved this book since it was opened; save yours under another name, then open "
                          "both and bring your changes over" };
    }
    removeLeftovers (path);
    auto written = writeWhole (path, text);
    if (! written)
        return written.error();
    return stampOf (text);
}
} // namespace shutterbeat::store
