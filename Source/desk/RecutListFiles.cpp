#include "desk/RecutListFiles.h"

#include "store/WholeFile.h"

namespace shutterbeat::desk
{
namespace
{
Error in (const std::string& path, Error error)
{
    error.where = path + (error.where.empty() ? "" : ": " + error.where);
    return error;
}

Result<exchange::PictureList> readList (const std::string& path, const time::Rate& rate)
{
    const auto bytes = store::readWhole (path);
    if (! bytes)
        return bytes.error();
    auto list = exchange::readPictureList (*bytes, rate);
    if (! list)
        return in (path, list.error());
    return list;
}
} // namespace

Result<RecutMade> recutFromListFiles (const spotting::Book& book, const std::string& before, const std::string& oldPath,
                                      const std::string& newPath, const time::Rate& rate, std::optional<ListCounts> counts)
{
    const auto old = readList (oldPath, rate);
    if (! old)
        return old.error();
    const auto now = readList (newPath, rate);
    if (! now)
        return now.error();
    return recutFromLists (book, before, *old, *now, counts);
}

Result<RecutMade> recutFromChangeFile (const spotting::Book& book, const std::string& before, const std::string& path)
{
    const auto bytes = store::readWhole (path);
    if (! bytes)
        return bytes.error();
    const auto changes = exchange::readChangeTable (*bytes);
    if (! changes)
        return in (path, changes.error());
    auto made = recutFromChanges (book, before, *changes);
    if (! made)
        return in (path, made.error());
    return made;
}

Result<Done> writeChangeList (const std::string& path, const std::vector<spotting::RecutRow>& rows)
{
    return store::writeWhole (path, exchange::changeTable (rows));
}
} // namespace shutterbeat::desk
