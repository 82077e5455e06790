#pragma once

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <unistd.h>

namespace shutterbeat::tests
{
/// A folder of its own for one test, removed afterwards.
struct Folder
{
    std::filesystem::path path;
    Folder()
    {
        std::string name = (std::filesystem::temp_directory_path() / "shutterbeat-store-XXXXXX").string();
        path = ::mkdtemp (name.data());
    }
    Folder (const Folder&) = delete;
    Folder& operator= (const Folder&) = delete;
    ~Folder()
    {
        std::error_code ignored;
        std::filesystem::permissions (path, std::filesystem::perms::owner_all, ignored);
        std::filesystem::remove_all (path, ignored);
    }
    [[nodiscard]] std::string operator/ (const std::string& name) const { return (path / name).string(); }
};

inline std::string readFile (const std::string& path)
{
    std::ifstream file (path, std::ios::binary);
    return { std::istreambuf_iterator<char> (file), {} };
}
} // namespace shutterbeat::tests
