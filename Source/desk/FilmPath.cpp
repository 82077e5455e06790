#include "desk/FilmPath.h"

#include <filesystem>

namespace shutterbeat::desk
{
namespace fs = std::filesystem;

namespace
{
fs::path folderOf (const std::string& bookPath)
{
    std::error_code failed;
    const auto whole = fs::absolute (fs::path (bookPath), failed);
    return (failed ? fs::path (bookPath) : whole).lexically_normal().parent_path();
}
} // namespace

std::string pathForBook (const std::string& bookPath, const std::string& filmPath)
{
    std::error_code failed;
    const auto film = fs::absolute (fs::path (filmPath), failed).lexically_normal();
    if (failed)
        return filmPath;
    const auto folder = folderOf (bookPath);
    // Both under /home/anna: relative. One on a stick, one in the home folder: absolute.
    const auto common = [] (const fs::path& path) { return path.begin() != path.end() ? std::next (path.begin()) : path.end(); };
    if (common (film) == film.end() || common (folder) == folder.end() || *common (film) != *common (folder))
        return film.string();
    return film.lexically_relative (folder).generic_string();
}

std::string pathFromBook (const std::string& bookPath, const std::string& keptPath)
{
    const fs::path kept (keptPath);
    if (kept.is_absolute() || keptPath.empty())
        return keptPath;
    return (folderOf (bookPath) / kept).lexically_normal().string();
}
} // namespace shutterbeat::desk
