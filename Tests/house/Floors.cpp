#include "Floors.h"

#include <algorithm>
#include <map>
#include <set>
#include <sstream>

namespace shutterbeat::tests
{
namespace
{
struct Folder
{
    int floor;
    std::set<std::string> mayInclude;
};

const std::map<std::string, Folder>& folders()
{
    static const std::set<std::string> values{ "time", "film", "music", "spotting", "scan", "lineup" };
    static const auto all = []
    {
        const std::set<std::string> book{ "spotting", "film", "music", "time" };
        const std::set<std::string> three{ "media", "mix", "overlay", "reading", "exchange", "sheets", "store" };
        std::set<std::string> belowDesk = values;
        belowDesk.insert (three.begin(), three.end());
        // What desk and play hand out are plain values of the lowest floors; whoever uses them may name them.
        std::set<std::string> commands = values, window = values;
        commands.insert ("desk");
        window.insert ({ "desk", "play", "overlay" });
        return std::map<std::string, Folder>{
            { "time", { 0, {} } },
            { "film", { 1, { "time" } } },
            { "music", { 1, { "time" } } },
            { "spotting", { 2, { "film", "music", "time" } } },
            { "scan", { 2, { "film", "time" } } },
            { "lineup", { 2, { "music", "time" } } },
            { "media", { 3, { "film", "time" } } },
            { "mix", { 3, { "music", "time" } } },
            { "overlay", { 3, { "film", "music", "time" } } },
            { "reading", { 3, { "film", "time" } } },
            { "exchange", { 3, book } },
            { "sheets", { 3, book } },
            { "store", { 3, book } },
            { "desk", { 4, belowDesk } },
            { "play", { 4, { "media", "mix", "film", "music", "time" } } },
            { "cli", { 5, commands } },
            { "window", { 5, window } },
        };
    }();
    return all;
}

/// All that plain values and functions need of the standard library: no files, no clock, no threads, no streams.
const std::set<std::string>& plainHeaders()
{
    static const std::set<std::string> all{
        "algorithm",
        "array",
        "bit",
        "bitset",
        "cassert",
        "charconv",
        "cmath",
        "compare",
        "complex",
        "concepts",
        "cstddef",
        "cstdint",
        "cstdlib",
        "cstring",
        "deque",
        "functional",
        "initializer_list",
        "iterator",
        "limits",
        "list",
        "map",
        "memory",
        "numbers",
        "numeric",
        "optional",
        "queue",
        "ranges",
        "set",
        "span",
        "stdexcept",
        "string",
        "string_view",
        "tuple",
        "type_traits",
        "utility",
        "variant",
        "vector",
        "unordered_map",
        "unordered_set",
        "system_error",
    };
    return all;
}

bool startsWith (const std::string& text, const char* prefix)
{
    return text.rfind (prefix, 0) == 0;
}

bool isLibav (const std::string& header)
{
    return startsWith (header, "libav") || startsWith (header, "libsw");
}
} // namespace

bool hasFloor (const std::string& folder)
{
    return folders().count (folder) > 0;
}

std::vector<std::string> includesOf (const std::string& text)
{
    std::vector<std::string> found;
    std::istringstream lines (text);
    for (std::string line; std::getline (lines, line);)
    {
        const auto blank = [&] (std::size_t at) { return std::min (line.find_first_not_of (" \t", at), line.size()); };
        auto at = blank (0);
        if (at == line.size() || line[at] != '#')
            continue;
        at = blank (at + 1);
        if (line.compare (at, 7, "include") != 0)
            continue;
        at = blank (at + 7);
        if (at == line.size())
            continue;
        const auto end = line.find (line[at] == '<' ? '>' : '"', at + 1);
        found.push_back (line.substr (at, end == std::string::npos ? end : end - at + 1));
    }
    return found;
}

std::vector<std::string> breachesIn (const std::string& folder, const std::string& file, const std::string& text)
{
    std::vector<std::string> breaches;
    const auto breach = [&] (const std::string& include, const std::string& why)
    { breaches.push_back ("Source/" + folder + "/" + file + " includes " + include + ": " + why); };
    const auto here = folders().find (folder);
    if (here == folders().end())
        return { "Source/" + folder + "/ has no place on a floor" };
    const int floor = here->second.floor;
    for (const auto& include : includesOf (text))
    {
        const std::string name = include.size() > 2 ? include.substr (1, include.size() - 2) : "";
        if (include[0] == '"')
        {
            const auto slash = name.find ('/');
            const std::string other = name.substr (0, slash);
            if (slash == std::string::npos || folders().count (other) == 0)
                breach (include, "our own headers are named by their folder of Source/");
            else if (other != folder && here->second.mayInclude.count (other) == 0)
                breach (include, folder + "/ may not include " + other + "/");
            continue;
        }
        if (include[0] != '<')
        {
            breach (include, "an include names its header");
            continue;
        }
        if ((startsWith (name, "juce") || startsWith (name, "Juce")) && folder != "window")
            breach (include, "JUCE appears in window/ only");
        else if (isLibav (name) && folder != "media")
            breach (include, "libav appears in media/ only");
        else if (startsWith (name, "CLI/") && folder != "cli")
            breach (include, "the words of the command line are read in cli/ only");
        else if (floor <= 2 && plainHeaders().count (name) == 0)
            breach (include, "floors 0 to 2 are plain values and functions: no files, clock, streams, threads or libraries");
    }
    return breaches;
}
} // namespace shutterbeat::tests
