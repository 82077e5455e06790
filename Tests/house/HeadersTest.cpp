#include "Catch.h"
#include "Floors.h"
#include "TrackedFiles.h"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <future>
#include <map>
#include <set>

using namespace shutterbeat::tests;

namespace
{
/// What this build compiles: the files, and for each folder of Source/ one compiler call without its file.
struct Build
{
    std::set<std::string> files;  ///< paths from the checkout's root
    std::set<std::string> behind; ///< those compiled together with others before them, which may have included what they lack
    std::map<std::string, std::string> callOf;
};

Build readBuild()
{
    const std::string root = std::filesystem::weakly_canonical (SHUTTERBEAT_SOURCE_DIR).string() + "/";
    std::ifstream file (std::string (SHUTTERBEAT_BINARY_DIR) + "/compile_commands.json");
    REQUIRE (file);
    Build build;
    for (const auto& entry : nlohmann::json::parse (file))
    {
        const auto compiled = std::filesystem::weakly_canonical (entry["file"].get<std::string>());
        std::vector<std::string> parts{ compiled.string() };
        if (compiled.parent_path().filename() == "Unity")
        {
            parts.clear();
            for (const auto& include : includesOf (readTracked (compiled.string())))
                parts.push_back (include.substr (1, include.size() - 2));
        }
        for (const auto& part : parts)
        {
            if (part.rfind (root, 0) != 0)
                continue;
            const auto relative = part.substr (root.size());
            build.files.insert (relative);
            if (part != parts[0])
                build.behind.insert (relative);
            const auto command = entry["command"].get<std::string>();
            const auto slash = relative.find ('/', 7);
            if (relative.rfind ("Source/", 0) == 0 && slash != std::string::npos)
                build.callOf[relative.substr (7, slash - 7)] =
                    "cd '" + entry["directory"].get<std::string>() + "' && " + command.substr (0, command.rfind (" -o "));
        }
    }
    return build;
}

/// What the compiler says to a file that holds just these lines; nothing when it takes them.
std::string objections (const std::string& call, const std::string& lines)
{
    const auto ran = run ("printf '%s' '" + lines + "' | (" + call + " -fsyntax-only -x c++ -) 2>&1");
    return ran.status == 0 ? "" : ran.output + "(exit status " + std::to_string (ran.status) + ")";
}

bool endsWith (const std::string& text, const std::string& end)
{
    return text.size() >= end.size() && text.compare (text.size() - end.size(), end.size(), end) == 0;
}
} // namespace

TEST_CASE ("Every header of the built folders compiles alone")
{
    const auto build = readBuild();
    REQUIRE (build.callOf.count ("time") > 0);
    struct Header
    {
        std::string path, folder, name;
    };
    std::vector<Header> alone;
    std::size_t byTheirFile = 0, notSeen = 0;
    for (const auto& path : trackedFiles())
    {
        if (path.rfind ("Source/", 0) != 0 || ! endsWith (path, ".h"))
            continue;
        const auto slash = path.find ('/', 7);
        const Header header{ path, path.substr (7, slash - 7), path.substr (7) };
        if (build.callOf.count (header.folder) == 0)
            continue;
        // A header that its own .cpp includes first has been compiled alone by the build itself.
        const auto source = path.substr (0, path.size() - 2) + ".cpp";
        const auto includes = build.files.count (source) > 0 ? includesOf (readTracked (source)) : std::vector<std::string>{};
        if (! includes.empty() && includes[0] == "\"" + header.name + "\"")
            ++(build.behind.count (source) > 0 ? notSeen : byTheirFile);
        else
            alone.push_back (header);
    }
    std::vector<std::future<std::string>> two (2);
    for (std::size_t worker = 0; worker < two.size(); ++worker)
        two[worker] = std::async (std::launch::async,
                                  [&, worker]
                                  {
                                      std::string all;
                                      for (std::size_t i = worker; i < alone.size(); i += 2)
                                      {
                                          const auto said = objections (build.callOf.at (alone[i].folder),
                                                                        "#include \"" + alone[i].name + "\"\n");
                                          if (! said.empty())
                                              all += alone[i].path + " does not compile alone:\n" + said + "\n";
                                      }
                                      return all;
                                  });
    for (auto& worker : two)
        if (const auto said = worker.get(); ! said.empty())
            FAIL_CHECK (said);
    CHECK (byTheirFile + alone.size() > 10);
    if (notSeen > 0)
        WARN (notSeen << " headers were compiled behind others; a build without CMAKE_UNITY_BUILD judges them too");
}

TEST_CASE ("The check of the headers can fail")
{
    const auto build = readBuild();
    const auto& call = build.callOf.at ("time");
    CHECK (objections (call, "#include <vector>\nstd::vector<int> v;\n").empty());
    CHECK_FALSE (objections (call, "std::vector<int> v;\n").empty());
    CHECK_FALSE (objections (call, "#include \"time/Nowhere.h\"\n").empty());
}

TEST_CASE ("Every source file of a built folder is part of the build")
{
    const auto build = readBuild();
    for (const auto& path : trackedFiles())
    {
        if (! endsWith (path, ".cpp") || (path.rfind ("Source/", 0) != 0 && path.rfind ("Tests/", 0) != 0))
            continue;
        const auto folder = path.substr (0, path.rfind ('/') + 1);
        const auto first = build.files.lower_bound (folder);
        const bool built = first != build.files.end() && first->rfind (folder, 0) == 0;
        if (built && build.files.count (path) == 0)
            FAIL_CHECK (path << " is not compiled by any target");
    }
}
