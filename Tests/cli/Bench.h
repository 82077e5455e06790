#pragma once

#include "Catch.h"

#include "cli/Cli.h"

#include <nlohmann/json.hpp>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <unistd.h>
#include <vector>

namespace shutterbeat::tests
{
namespace fs = std::filesystem;

/// A folder of its own for one test, removed afterwards.
struct Folder
{
    fs::path path;
    Folder()
    {
        std::string name = (fs::temp_directory_path() / "shutterbeat-cli-XXXXXX").string();
        path = ::mkdtemp (name.data());
    }
    Folder (const Folder&) = delete;
    Folder& operator= (const Folder&) = delete;
    ~Folder()
    {
        std::error_code ignored;
        fs::remove_all (path, ignored);
    }
    [[nodiscard]] std::string operator/ (const std::string& name) const { return (path / name).string(); }
};

/// What a command line printed and how it ended.
struct Ran
{
    int status = 0;
    std::string out, err;
    [[nodiscard]] nlohmann::json json() const { return nlohmann::json::parse (out); }
};

inline Ran run (const std::vector<std::string>& words)
{
    std::ostringstream out, err;
    const int status = cli::run (words, out, err);
    return { status, out.str(), err.str() };
}

/// Runs what has to work, and shows its complaint when it does not.
inline Ran must (const std::vector<std::string>& words)
{
    auto ran = run (words);
    INFO (ran.err);
    REQUIRE (ran.status == 0);
    return ran;
}

inline std::string readFile (const std::string& path)
{
    std::ifstream file (path, std::ios::binary);
    return { std::istreambuf_iterator<char> (file), {} };
}

inline void writeFile (const std::string& path, const std::string& bytes)
{
    std::ofstream (path, std::ios::binary) << bytes;
}

/// A small film of `frames` pictures that all differ, one to one, without timecode.
inline void makeFilm (const std::string& path, int frames, int rate = 24, const std::string& more = "")
{
    const std::string command = "ffmpeg -v error -y -f lavfi -i testsrc2=size=160x120:rate=" + std::to_string (rate) + " -frames:v "
                                + std::to_string (frames) + " -pix_fmt yuv420p " + more + " '" + path + "'";
    REQUIRE (std::system (command.c_str()) == 0);
}

/// The demo film's folder, or "" where the tests run without it.
inline std::string demoFolder()
{
    const char* set = std::getenv ("SHUTTERBEAT_DEMO_FOLDER");
    const std::string folder = set != nullptr ? set : std::string (SHUTTERBEAT_SOURCE_DIR) + "/demo/out";
    return fs::exists (folder + "/truth.json") ? folder : "";
}
} // namespace shutterbeat::tests
