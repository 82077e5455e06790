#include "Floors.h"

#include "Catch.h"
#include "TrackedFiles.h"

#include <array>

using namespace shutterbeat::tests;

namespace
{
bool isCode (const std::string& path)
{
    const auto dot = path.rfind ('.');
    return dot != std::string::npos && (path.substr (dot) == ".h" || path.substr (dot) == ".cpp");
}
} // namespace

TEST_CASE ("Every folder of Source includes only what its floor allows")
{
    std::size_t seen = 0;
    for (const auto& path : trackedFiles())
    {
        if (path.rfind ("Source/", 0) != 0 || ! isCode (path))
            continue;
        const auto slash = path.find ('/', 7);
        REQUIRE (slash != std::string::npos);
        const auto folder = path.substr (7, slash - 7);
        for (const auto& breach : breachesIn (folder, path.substr (slash + 1), readTracked (path)))
            FAIL_CHECK (breach);
        ++seen;
    }
    CHECK (seen > 40);
}

TEST_CASE ("The check of the floors can fail")
{
    struct Planted
    {
        const char* folder;
        const char* text;
    };
    const std::array<Planted, 25> breaches{ {
        { "time", "#include \"film/Shot.h\"\n" },
        { "film", "#include \"music/TickMap.h\"\n" },
        { "music", "#include \"film/Shot.h\"\n" },
        { "film", "#include \"spotting/Book.h\"\n" },
        { "spotting", "#include \"scan/Scanner.h\"\n" },
        { "scan", "#include \"music/TickMap.h\"\n" },
        { "lineup", "#include \"film/Shot.h\"\n" },
        { "media", "#include \"spotting/Book.h\"\n" },
        { "media", "#include \"scan/Scanner.h\"\n" },
        { "store", "#include \"media/FilmFile.h\"\n" },
        { "exchange", "#include \"sheets/Page.h\"\n" },
        { "play", "#include \"desk/Progress.h\"\n" },
        { "desk", "#include \"play/Transport.h\"\n" },
        { "cli", "#include \"store/BookFile.h\"\n" },
        { "window", "#include \"media/FilmFile.h\"\n" },
        { "desk", "#include <juce_core/juce_core.h>\n" },
        { "play", "extern \"C\"\n{\n#include <libavcodec/avcodec.h>\n}\n" },
        { "desk", "#include <CLI/CLI.hpp>\n" },
        { "time", "#include <filesystem>\n" },
        { "film", "  #  include <fstream>\n" },
        { "spotting", "#include <chrono>\n" },
        { "scan", "#include <nlohmann/json.hpp>\n" },
        { "music", "#include <unistd.h>\n" },
        { "film", "#include \"Shot.h\"\n" },
        { "attic", "#include <vector>\n" },
    } };
    for (const auto& planted : breaches)
    {
        INFO (planted.folder << ": " << planted.text);
        const auto found = breachesIn (planted.folder, "Planted.h", planted.text);
        REQUIRE (found.size() == 1);
        CHECK (found[0].find (planted.folder) != std::string::npos);
    }
    CHECK (
        breachesIn ("film", "Planted.h",
                    "#include \"film/Shot.h\"\n#include \"time/Rate.h\"\n#include <vector>\n// #include <chrono>\nint fstream;\n")
            .empty());
    CHECK (breachesIn ("desk", "Planted.h", "#include \"media/FilmFile.h\"\n#include \"store/BookFile.h\"\n#include <filesystem>\n")
               .empty());
    CHECK (breachesIn ("window", "Planted.h", "#include <juce_gui_basics/juce_gui_basics.h>\n#include \"play/Clock.h\"\n").empty());
}
